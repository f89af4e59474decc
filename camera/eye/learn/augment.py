"""Batches as a camera would give them: a random window, then light, optics, noise,
subsampling and compression. All on the card, all pictures of a sample alike where a
camera would be alike, noise apart."""
import math

import torch
import torch.nn.functional as F

from points import MIRRORED

SIDE = 256


def windows(b, device, strong=True, scale=None, mirror=None):
    """Random windows of 320 x 320 pictures: side (px), centre, turn (rad), mirrored or not."""
    u = lambda lo, hi: torch.rand(b, device=device) * (hi - lo) + lo
    if not strong:
        s = torch.full((b,), float(scale or 288), device=device)
        m = torch.zeros(b, dtype=torch.bool, device=device) if mirror is None else mirror
        return s, torch.full((b, 2), 160.0, device=device), torch.zeros(b, device=device), m
    s = torch.exp(u(math.log(190), math.log(335)))
    c = 160 + (torch.rand(b, 2, device=device) - 0.5) * ((320 - s).clamp(min=0) + 40)[:, None]
    a = torch.randn(b, device=device) * 0.05
    return s, c, a, torch.rand(b, device=device) < 0.5


def grid(s, c, a, m, warp=None):
    """Where the pixels of a SIDE x SIDE window lie in the picture (grid_sample's -1..1)."""
    b = len(s)
    t = (torch.arange(SIDE, device=s.device) + 0.5) / SIDE - 0.5
    y, x = torch.meshgrid(t, t, indexing="ij")
    x = x[None].expand(b, -1, -1) * torch.where(m, -1.0, 1.0)[:, None, None]
    y = y[None].expand(b, -1, -1)
    if warp is not None:
        k = 1 + warp[:, None, None] * (x * x + y * y)
        x, y = x * k, y * k
    ca, sa = torch.cos(a)[:, None, None], torch.sin(a)[:, None, None]
    px = c[:, 0, None, None] + s[:, None, None] * (ca * x - sa * y)
    py = c[:, 1, None, None] + s[:, None, None] * (sa * x + ca * y)
    return torch.stack([px / 160 - 1, py / 160 - 1], -1)


def place(points, s, c, a, m, warp=None):
    """Truth in the windows' pixels: B x K x 2, and the state (0 outside). Undoes `grid`."""
    d = (points[..., :2] - c[:, None]) / s[:, None, None]
    ca, sa = torch.cos(a)[:, None], torch.sin(a)[:, None]
    x, y = ca * d[..., 0] + sa * d[..., 1], -sa * d[..., 0] + ca * d[..., 1]
    if warp is not None:   # x k(r) = d: a few fixed-point steps
        w = warp[:, None]
        x0, y0 = x, y
        for _ in range(4):
            k = 1 + w * (x * x + y * y)
            x, y = x0 / k, y0 / k
    x = x * torch.where(m, -1.0, 1.0)[:, None]
    xy = torch.stack([(x + 0.5) * SIDE, (y + 0.5) * SIDE], -1)
    state = points[..., 3].clone()
    out = (xy < 0).any(-1) | (xy >= SIDE).any(-1)
    state[out & (state > 0)] = 0
    turned = torch.tensor(MIRRORED, device=points.device)
    xy = torch.where(m[:, None, None], xy[:, turned], xy)
    state = torch.where(m[:, None], state[:, turned], state)
    return xy, state


def blur(x, sigma):
    """Gaussian of its own width for each sample; x B x C x H x W. Sums of shifted pictures: a convolution
    with as many groups as there are channels is several times slower on a card."""
    r = 3
    t = torch.arange(0, r + 1, device=x.device, dtype=torch.float32)
    k = torch.exp(-t * t / (2 * sigma[:, None].float().clamp(min=0.05) ** 2))
    k = (k / (2 * k.sum(1, keepdim=True) - 1)).to(x.dtype).view(len(x), -1, 1, 1, 1)
    for pad, dim in (((r, r, 0, 0), 3), ((0, 0, r, r), 2)):
        n, wide = x.shape[dim], F.pad(x, pad, mode="replicate")
        part = lambda i: wide.narrow(dim, r + i, n)
        x = k[:, 0] * x
        for i in range(1, r + 1):
            x = torch.addcmul(x, k[:, i], part(i) + part(-i))
    return x


def flat(x, radius, eps):
    """Smoothed between edges (the guided filter of He, Sun and Tang 2013, guided by the picture
    itself): surfaces as plain as drawn ones."""
    n = 2 * radius + 1
    mean = lambda t: F.avg_pool2d(F.pad(t, (radius,) * 4, mode="replicate"), n, 1)
    m = mean(x)
    var = (mean(x * x) - m * m).clamp(min=0)
    a = var / (var + eps)
    return mean(a) * x + mean(m - a * m)


def dct_matrix(device):
    n = torch.arange(8, device=device, dtype=torch.float32)
    d = torch.cos(math.pi * (2 * n[None] + 1) * n[:, None] / 16) * math.sqrt(2 / 8)
    d[0] /= math.sqrt(2)
    return d


# ITU-T T.81, Annex K, table K.1: luminance.
QUANT = torch.tensor([16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
                      18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99.]).view(8, 8)


def blocks(x, strength):
    """Quantises 8 x 8 blocks as JPEG does; strength multiplies the table. x in 0..255."""
    b, c, h, w = x.shape
    d = dct_matrix(x.device)
    both = torch.kron(d, d).to(x.dtype)   # rows and columns of a block at once: one product of matrices
    t = (x - 128).reshape(b, c, h // 8, 8, w // 8, 8).permute(0, 1, 2, 4, 3, 5).reshape(b, -1, 64)
    q = (QUANT.to(x.device).view(1, 1, 64) * strength.view(b, 1, 1)).to(x.dtype)
    t = torch.round((t @ both.T) / q) * q @ both
    return t.view(b, c, h // 8, w // 8, 8, 8).permute(0, 1, 2, 4, 3, 5).reshape(b, c, h, w) + 128


def grey(x):
    """Luma (ITU-R BT.601) of B x 3 x H x W."""
    return 0.299 * x[:, :1] + 0.587 * x[:, 1:2] + 0.114 * x[:, 2:]


def ycc(x):
    """RGB 0..1 -> Y, Cb, Cr (JFIF, ITU-T T.871), 0..1 with 0.5 in the middle of chroma."""
    r, g, b = x.unbind(1)
    y = 0.299 * r + 0.587 * g + 0.114 * b
    return torch.stack([y, (b - y) / 1.772 + 0.5, (r - y) / 1.402 + 0.5], 1)


def rgb(x):
    y, cb, cr = x.unbind(1)
    r, b = y + 1.402 * (cr - 0.5), y + 1.772 * (cb - 0.5)
    return torch.stack([r, (y - 0.299 * r - 0.114 * b) / 0.587, b], 1)


def camera(shots):
    """What a camera makes of a sample's pictures: a list of B x 3 x H x W, 0..1, each with
    the same optics and light, its own noise."""
    b, dev = len(shots[0]), shots[0].device
    u = lambda lo, hi, *s: torch.rand(b, *s, device=dev) * (hi - lo) + lo
    some = lambda p: torch.rand(b, device=dev) < p
    kind = shots[0].dtype
    four = lambda v: v.view(b, -1, 1, 1).to(kind)
    gamma, gain = torch.exp(u(-0.45, 0.45)), torch.exp(torch.randn(b, device=dev) * 0.3)
    cast = 1 + torch.randn(b, 3, device=dev) * 0.08
    sat = torch.where(some(0.1), u(0, 0.4), u(0.5, 1.5))
    lift = u(-0.06, 0.1)
    sigma = torch.where(some(0.35), torch.zeros(b, device=dev), u(0.3, 1.7))
    sharp = torch.where(some(0.3), u(0.3, 1.5), torch.zeros(b, device=dev))
    read, shot = torch.exp(u(math.log(0.002), math.log(0.035))), torch.exp(u(math.log(0.0005), math.log(0.035)))
    read, shot = torch.where(some(0.15), read * 0, read), torch.where(some(0.15), shot * 0, shot)
    coarse = torch.where(some(0.35), u(0, 0.03), torch.zeros(b, device=dev))
    squeeze = torch.where(some(0.45), torch.exp(u(math.log(0.08), math.log(2.5))), torch.zeros(b, device=dev))
    sub = some(0.7)
    band = torch.where(some(0.1), u(-0.3, 0.3), torch.zeros(b, device=dev))
    plain, coded = some(0.2).nonzero()[:, 0], (squeeze > 0).nonzero()[:, 0]
    curve = torch.where(some(0.15)[:, None], 1 + torch.randn(b, 3, device=dev) * 0.35, torch.ones(b, 3, device=dev)).clamp(0.4, 2.2)
    y = torch.linspace(-1, 1, SIDE, device=dev, dtype=kind).view(1, 1, -1, 1)
    dirt = F.interpolate(torch.rand(b, 1, 5, 5, device=dev), size=SIDE, mode="bicubic", align_corners=False).clamp(0, 1).to(kind)
    dirt = 1 - four(torch.where(some(0.1), u(0.2, 0.7), torch.zeros(b, device=dev))) * (dirt - 0.75).clamp(min=0) * 4
    out = []
    for i, x in enumerate(shots):
        drift = 1 + torch.randn(b, device=dev) * 0.012 * (i > 0)
        x = x.clamp(0, 1)
        x[plain] = flat(x[plain].float(), 4, 0.004).to(kind)
        x = x ** four(curve)
        x = x.clamp(0, 1) ** four(gamma) * four(gain * drift) * four(cast) * (1 + four(band) * y) * dirt + four(lift)
        x = blur(x, sigma)
        luma = grey(x)
        x = luma + (x - luma) * four(sat)
        x = x + four(sharp) * (x - blur(x, torch.ones_like(sigma)))
        s = torch.sqrt(four(read) ** 2 + four(shot) ** 2 * x.clamp(0, 1))
        x = x + torch.randn_like(x) * s
        x = x + four(coarse) * F.interpolate(torch.randn(b, 3, SIDE // 4, SIDE // 4, device=dev, dtype=kind), scale_factor=4, mode="bilinear", align_corners=False)
        t = ycc(x.clamp(0, 1))
        small = F.avg_pool2d(t[:, 1:], 2)
        luma = t[:, :1].clone()
        luma[coded] = blocks(luma[coded] * 255, squeeze[coded]) / 255
        small[coded] = blocks(small[coded] * 255, squeeze[coded] * 1.5) / 255
        chroma = torch.where(four(sub) > 0, F.interpolate(small, scale_factor=2, mode="nearest"), t[:, 1:])
        x = rgb(torch.cat([luma, chroma], 1)).clamp(0, 1)
        out.append(torch.round(x * 255) / 255)
    return out


def batch(data, index, strong=True, scale=None, mirror=None, motion=None, newness=None):
    """Network input (B x 5 x SIDE x SIDE), truth places and states. `motion` and
    `newness` ("address", "empty") switch the differences on or off; random where None."""
    b, dev = len(index), data.x.device
    s, c, a, m = windows(b, dev, strong, scale, mirror)
    warp = torch.randn(b, device=dev) * 0.04 if strong else None
    g = grid(s, c, a, m, warp)
    take = lambda i: F.grid_sample(data.x[i].float() / 255, g, mode="bilinear", padding_mode="zeros", align_corners=False)
    inside = (g.abs() <= 1).all(-1)[:, None].float()
    before, empty, address = data.before[index], data.empty[index], data.address[index]
    if motion is None:
        has_before = (before >= 0) & (torch.rand(b, device=dev) < 0.65)
    else:
        has_before = (before >= 0) & motion
    still = (before < 0) & (empty >= 0)   # an address picture: as if nothing had moved
    if newness is None:
        pick = torch.rand(b, device=dev)
        ref = torch.where(pick < 0.4, address, torch.where(pick < 0.62, empty, torch.full_like(empty, -1)))
    else:
        ref = {"address": address, "empty": empty, "none": torch.full_like(empty, -1)}[newness]
    has_ref = ref >= 0
    shots = [take(index), take(torch.where(has_before, before, index)), take(torch.where(has_ref, ref, index))]
    if strong:
        # the picture's edge: nothing beyond
        cut = torch.rand(b, 4, device=dev) * torch.where(torch.rand(b, 4, device=dev) < 0.12, 0.35, 0.0)
        t = (torch.arange(SIDE, device=dev) + 0.5) / SIDE
        okx = (t[None] > cut[:, 0:1]) & (t[None] < 1 - cut[:, 1:2])
        oky = (t[None] > cut[:, 2:3]) & (t[None] < 1 - cut[:, 3:4])
        inside = inside * (okx[:, None, None, :] & oky[:, None, :, None]).float()
        # half as precise is enough for noise and light, and twice as fast on a card
        shots = camera([x.half() if x.is_cuda else x for x in shots])
        moved = has_before | (still & (torch.rand(b, device=dev) < 0.5))
    else:
        moved = has_before
    lum = [grey(x) for x in shots]
    diff = lambda o, on: ((lum[0] - o) * (255 / 64)).clamp(-2, 2) * on.view(b, 1, 1, 1).to(o.dtype)
    x = torch.cat([shots[0] * 2 - 1, diff(lum[1], moved), diff(lum[2], has_ref)], 1) * inside.to(shots[0].dtype)
    xy, state = place(data.points[index], s, c, a, m, warp)
    if strong:
        gone = (xy[..., 0] < cut[:, 0:1] * SIDE) | (xy[..., 0] > (1 - cut[:, 1:2]) * SIDE) | (xy[..., 1] < cut[:, 2:3] * SIDE) | (xy[..., 1] > (1 - cut[:, 3:4]) * SIDE)
        state = torch.where(gone & (state > 0), torch.zeros_like(state), state)
    return x.float(), xy, state, s
