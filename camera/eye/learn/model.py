"""The network of the eye: a MobileNetV2 trunk, a light decoder, heads for keypoints.

Input   B x 5 x S x S: red, green, blue in -1..1, then two differences of luma
        (to the frame before, to the reference picture), each / 64 and clamped to
        -2..2; a difference that is not to be had is 0.
Output  features  B x 64 x S/4 x S/4
        maps      B x K x S/4 x S/4, a logit for each cell and keypoint
        absent    B x K, the logit of "not in this picture", in the same softmax
        details   a 1x1 convolution of the features, wanted at few cells only:
                  for each keypoint 6 numbers, see `places`

Trunk: Sandler et al. 2018, MobileNetV2, width 1, to block 14. Decoder: a feature
pyramid (Lin et al. 2017) of depthwise separable convolutions down to stride 4.
"""
import torch
import torch.nn as nn
import torch.nn.functional as F

from points import MIRRORED, POINTS

K = len(POINTS)
CHANNELS = 5
STRIDE = 4

# Blocks 0..14 of the trunk: expansion, channels out, stride.
BLOCKS = [(1, 16, 1), (6, 24, 2), (6, 24, 1), (6, 32, 2), (6, 32, 1), (6, 32, 1),
          (6, 64, 2), (6, 64, 1), (6, 64, 1), (6, 64, 1), (6, 96, 1), (6, 96, 1),
          (6, 96, 1), (6, 160, 2), (6, 160, 1)]
# Blocks whose output the decoder takes: strides 4, 8, 16, 32.
TAPS = (2, 5, 12, 14)
DETAILS = 6


class Conv(nn.Module):
    """Convolution, batch normalisation, and ReLU6 where `act`. TensorFlow's padding:
    with stride 2 and an even size, one row below and one column to the right."""

    def __init__(self, cin, cout, k=1, stride=1, groups=1, act=True):
        super().__init__()
        self.conv = nn.Conv2d(cin, cout, k, stride, 0, groups=groups, bias=False)
        self.bn = nn.BatchNorm2d(cout, eps=1e-3, momentum=0.02)
        self.act, self.k, self.stride = act, k, stride

    def forward(self, x):
        if self.k == 3:
            x = F.pad(x, (0, 1, 0, 1) if self.stride == 2 else (1, 1, 1, 1))
        x = self.bn(self.conv(x))
        return F.relu6(x) if self.act else x


class Block(nn.Module):
    """Inverted residual: expand, depthwise 3x3, project; the input added where shapes allow."""

    def __init__(self, cin, cout, expansion, stride):
        super().__init__()
        mid = cin * expansion
        self.expand = Conv(cin, mid) if expansion != 1 else None
        self.depthwise = Conv(mid, mid, 3, stride, groups=mid)
        self.project = Conv(mid, cout, act=False)
        self.residual = stride == 1 and cin == cout

    def forward(self, x):
        y = self.expand(x) if self.expand is not None else x
        y = self.project(self.depthwise(y))
        return x + y if self.residual else y


class Separable(nn.Module):
    """Depthwise 3x3 (no activation), pointwise, ReLU6."""

    def __init__(self, cin, cout):
        super().__init__()
        self.depthwise = Conv(cin, cin, 3, groups=cin, act=False)
        self.pointwise = Conv(cin, cout)

    def forward(self, x):
        return self.pointwise(self.depthwise(x))


class Eye(nn.Module):
    def __init__(self):
        super().__init__()
        self.stem = Conv(CHANNELS, 32, 3, 2)
        blocks, cin = [], 32
        for expansion, cout, stride in BLOCKS:
            blocks.append(Block(cin, cout, expansion, stride))
            cin = cout
        self.blocks = nn.ModuleList(blocks)
        c4, c8, c16, c32 = (BLOCKS[t][1] for t in TAPS)
        self.lateral32, self.lateral16 = Conv(c32, 96, act=False), Conv(c16, 96, act=False)
        self.smooth16 = Separable(96, 96)
        self.narrow16, self.lateral8 = Conv(96, 64, act=False), Conv(c8, 64, act=False)
        self.smooth8 = Separable(64, 64)
        self.narrow8, self.lateral4 = Conv(64, 48, act=False), Conv(c4, 48, act=False)
        self.smooth4, self.last4 = Separable(48, 48), Separable(48, 64)
        self.maps = nn.Conv2d(64, K, 1)
        self.details = nn.Conv2d(64, K * DETAILS, 1)
        self.absent = nn.Linear(96, K)

    def forward(self, x):
        x, taps = self.stem(x), []
        for i, b in enumerate(self.blocks):
            x = b(x)
            if i in TAPS:
                taps.append(x)
        up = lambda t: F.interpolate(t, scale_factor=2, mode="nearest")
        p16 = self.smooth16(up(self.lateral32(taps[3])) + self.lateral16(taps[2]))
        p8 = self.smooth8(up(self.narrow16(p16)) + self.lateral8(taps[1]))
        p4 = self.last4(self.smooth4(up(self.narrow8(p8)) + self.lateral4(taps[0])))
        return p4, self.maps(p4), self.absent(p16.mean((2, 3)))


def places(raw):
    """The details of cells, ... x 6 -> offset (2, in cells, from the cell's middle,
    within 3), the lower triangle of a Cholesky factor of the covariance (3: xx, yx, yy;
    cells), and the logit of being seen rather than hidden."""
    offset = 3 * torch.tanh(raw[..., 0:2] / 3)
    xx = F.softplus(raw[..., 2]) + 0.02
    yy = F.softplus(raw[..., 4]) + 0.02
    return offset, torch.stack([xx, raw[..., 3], yy], -1), raw[..., 5]


def read(features, maps, absent, net, window=2):
    """What the network says, for each picture and keypoint:
    place (x, y in pixels of the input, the middle of the first pixel at 0.5), covariance
    (2x2, px^2), chance of being in the picture, chance of being seen.

    The most likely cell is taken, and the mixture of the cells at most `window` from it
    is reduced to its mean and covariance."""
    b, k, h, w = maps.shape
    p = torch.cat([maps.flatten(2), absent[..., None]], 2).softmax(2)
    best = p[..., :-1].argmax(2)
    by, bx = best // w, best % w
    d = torch.arange(-window, window + 1, device=maps.device)
    ys = (by[..., None, None] + d[:, None]).expand(b, k, len(d), len(d))
    xs = (bx[..., None, None] + d[None, :]).expand(b, k, len(d), len(d))
    inside = (ys >= 0) & (ys < h) & (xs >= 0) & (xs < w)
    cells = (ys.clamp(0, h - 1) * w + xs.clamp(0, w - 1)).flatten(2)
    weight = p[..., :-1].gather(2, cells) * inside.flatten(2)
    at = features.flatten(2).gather(2, cells.flatten(1)[:, None].expand(b, features.shape[1], -1))
    wd = net.details.weight.view(k, DETAILS, -1)
    raw = torch.einsum("bckn,kdc->bknd", at.view(b, features.shape[1], k, -1), wd) + net.details.bias.view(k, 1, DETAILS)
    offset, chol, seen = places(raw)
    mu = torch.stack([xs.flatten(2) + 0.5, ys.flatten(2) + 0.5], -1) + offset
    mass = weight.sum(2, keepdim=True)
    share = weight / mass.clamp(min=1e-9)
    place = (share[..., None] * mu).sum(2)
    e = mu - place[:, :, None]
    l11, l21, l22 = chol.unbind(-1)
    cxx = (share * (l11 * l11 + e[..., 0] ** 2)).sum(2)
    cxy = (share * (l11 * l21 + e[..., 0] * e[..., 1])).sum(2)
    cyy = (share * (l21 * l21 + l22 * l22 + e[..., 1] ** 2)).sum(2)
    cov = torch.stack([torch.stack([cxx, cxy], -1), torch.stack([cxy, cyy], -1)], -2)
    return place * STRIDE, cov * STRIDE ** 2, mass[..., 0], (share * torch.sigmoid(seen)).sum(2)


def read_calibrated(features, maps, absent, net, temperature=1.0, scale=None):
    """`read` with what was measured after teaching: `temperature` divides the logits of maps and
    absent, `scale` (K numbers) multiplies each keypoint's covariance. This is what the product tells."""
    place, cov, chance, seen = read(features, maps / temperature, absent / temperature, net)
    if scale is not None:
        cov = cov * torch.as_tensor(scale, dtype=cov.dtype, device=cov.device).view(1, -1, 1, 1)
    return place, cov, chance, seen


if __name__ == "__main__":
    net = Eye()
    n = sum(p.numel() for p in net.parameters())
    print("weights", n, "half floats, MB", n * 2 / 1e6)
