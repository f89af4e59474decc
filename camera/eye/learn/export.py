"""The taught network as the product reads it.

    python3 export.py --state state.pt --weights ../eye.weights
    python3 export.py --trunk trunk.npz --seed 1 --weights ../eye.weights   before anything is taught
        --calibration calibration.json  {"temperature": 1.1, "covariance": [K numbers]}
        --vectors FOLDER                pictures for the tests; writes FOLDER/vectors.json
        --onnx eye.onnx                 the same network for other runtimes

Batch normalisation is folded into the convolutions. eye.weights is little-endian:

    "drillbay", uint32 version (1), uint32 number of tensors, then for each tensor
    uint8 length of name, name, uint8 dimensions, uint32 each dimension, float16 values
    and at the end uint32 CRC-32 (IEEE 802.3) of all before it

Tensors: NAME.weight and NAME.bias of every convolution and head in PyTorch's order
(out, in, height, width), "temperature" (1) and "covariance" (K): see model.read_calibrated.

A picture for the tests is NAME.png, S x S, S a multiple of 32; NAME.change.png beside it, where there
is one, holds both differences of luma in red and green, 128 for none. NAME.truth.json, where there is
one, has "KEYPOINT": [x, y] in its pixels, which goes into vectors.json: see examples.py.
"""
import argparse
import json
import pathlib
import struct
import zlib

import numpy as np
import torch
import torch.nn as nn

import backbone
import model

MAGIC, VERSION = b"drillbay", 1


def folded(net):
    """The network in evaluation without batch normalisation, its weights rounded to half floats, as
    a model.Eye: the convolutions have a bias, the normalisations do nothing."""
    out = model.Eye()
    out.load_state_dict(net.state_dict())
    out.eval()
    for m in out.modules():
        if isinstance(m, model.Conv):
            bn = m.bn
            a = bn.weight.double() / (bn.running_var.double() + bn.eps).sqrt()
            w = m.conv.weight.double() * a[:, None, None, None]
            b = bn.bias.double() - a * bn.running_mean.double()
            m.conv.weight = nn.Parameter(w.float())
            m.conv.bias = nn.Parameter(b.float())
            m.bn = nn.Identity()
    for p in out.parameters():
        p.data = p.data.half().float()
        if not torch.isfinite(p).all():
            raise ValueError("a weight is too large for a half float: the teaching went wrong")
    return out


def tensors(net, calibration):
    """Name and values of all that eye.weights holds."""
    out = {}
    for name, m in net.named_modules():
        if isinstance(m, (nn.Conv2d, nn.Linear)):
            name = name.removesuffix(".conv")
            out[f"{name}.weight"], out[f"{name}.bias"] = m.weight, m.bias
    out["temperature"] = torch.tensor([calibration["temperature"]])
    out["covariance"] = torch.tensor(calibration["covariance"])
    return {k: v.detach().numpy().astype("<f2") for k, v in out.items()}


def pack(named):
    data = bytearray(MAGIC + struct.pack("<II", VERSION, len(named)))
    for name, v in named.items():
        data += struct.pack("<B", len(name)) + name.encode()
        data += struct.pack(f"<B{v.ndim}I", v.ndim, *v.shape) + v.tobytes()
    return bytes(data + struct.pack("<I", zlib.crc32(bytes(data))))


def unpack(path):
    """The tensors of a file that pack wrote, float32 by name."""
    data = pathlib.Path(path).read_bytes()
    if data[:8] != MAGIC or zlib.crc32(data[:-4]) != struct.unpack("<I", data[-4:])[0]:
        raise ValueError(f"{path}: no weights of the eye, or damaged")
    version, n = struct.unpack_from("<II", data, 8)
    if version != VERSION:
        raise ValueError(f"{path}: version {version}, {VERSION} is wanted")
    at, out = 16, {}
    for _ in range(n):
        name = data[at + 1:at + 1 + data[at]].decode()
        at += 1 + data[at]
        shape = struct.unpack_from(f"<{data[at]}I", data, at + 1)
        at += 1 + 4 * len(shape)
        size = int(np.prod(shape, dtype=int))
        out[name] = torch.from_numpy(np.frombuffer(data, "<f2", size, at).reshape(shape).astype(np.float32))
        at += 2 * size
    return out


def load(net, path):
    """Puts eye.weights into a model.Eye, its normalisations only adding the bias: teaching goes on
    after backbone.renormalise."""
    named, state = unpack(path), {}
    for name, m in net.named_modules():
        if isinstance(m, model.Conv):
            n = len(named[f"{name}.bias"])
            state[f"{name}.conv.weight"], state[f"{name}.bn.bias"] = named[f"{name}.weight"], named[f"{name}.bias"]
            state[f"{name}.bn.weight"], state[f"{name}.bn.running_mean"] = torch.ones(n), torch.zeros(n)
            state[f"{name}.bn.running_var"] = torch.ones(n) - m.bn.eps
    for name in ("maps", "details", "absent"):
        state[f"{name}.weight"], state[f"{name}.bias"] = named[f"{name}.weight"], named[f"{name}.bias"]
    missing, unknown = net.load_state_dict(state, strict=False)
    missing = [k for k in missing if not k.endswith("num_batches_tracked")]
    if missing or unknown:
        raise ValueError(f"{path}: does not fit the network: {(missing + unknown)[0]}")


def read_calibration(path):
    """Rounded to half floats, as the file keeps them."""
    c = json.loads(pathlib.Path(path).read_text()) if path else {}
    half = lambda x: float(np.float16(x))
    out = {"temperature": half(c.get("temperature", 1)), "covariance": [half(s) for s in c.get("covariance", [1] * model.K)]}
    if len(out["covariance"]) != model.K or min(out["covariance"] + [out["temperature"]]) <= 0:
        raise ValueError(f"{path}: temperature and {model.K} scales of covariance above 0 are wanted")
    return out


def picture(path):
    """A picture for the tests as the network's input, 1 x 5 x S x S."""
    from PIL import Image
    rgb = np.asarray(Image.open(path).convert("RGB"), np.float32) / 127.5 - 1
    x = np.zeros((1, model.CHANNELS, *rgb.shape[:2]), np.float32)
    x[0, :3] = rgb.transpose(2, 0, 1)
    change = path.with_suffix(".change.png")
    if change.exists():
        d = np.asarray(Image.open(change).convert("RGB"), np.float32)[..., :2] - 128
        x[0, 3:] = np.clip(d / 64, -2, 2).transpose(2, 0, 1)
    return torch.from_numpy(x)


# Another calibration than the file's, by which the pictures are told as well.
TRIAL = {"temperature": 1.5, "covariance": [0.5 + k / 16 for k in range(model.K)]}


@torch.no_grad()
def vectors(net, folder, calibration):
    """What the network says of each picture of a folder, by the calibration and by another, written
    beside them."""
    pictures = []
    for path in sorted(pathlib.Path(folder).glob("*.png")):
        if path.name.endswith(".change.png"):
            continue
        out = net(picture(path))
        truth = path.with_suffix(".truth.json")
        pictures.append({"picture": path.name, "truth": {k: v for k, v in json.loads(truth.read_text()).items() if k in model.POINTS} if truth.exists() else None,
                         "points": points(net, out, calibration), "trial": points(net, out, TRIAL)})
    if not pictures:
        raise ValueError(f"{folder}: no pictures")
    (pathlib.Path(folder) / "vectors.json").write_text(json.dumps({"trial": TRIAL, "pictures": pictures}, indent=1) + "\n")
    return len(pictures)


def points(net, out, calibration):
    read = model.read_calibrated(*out, net, calibration["temperature"], calibration["covariance"])
    return [{"point": n, "x": p[0], "y": p[1], "xx": c[0][0], "xy": c[0][1], "yy": c[1][1], "here": h, "seen": s}
            for n, p, c, h, s in zip(model.POINTS, *(r[0].tolist() for r in read))]


def untaught(trunk, seed):
    """A network of the trunk and of heads by chance, to build and test with before teaching."""
    torch.manual_seed(seed)
    net = model.Eye()
    if trunk:
        backbone.load(net, trunk)
    with torch.no_grad():
        x = torch.rand(4, model.CHANNELS, 128, 128) * 2 - 1
        backbone.renormalise(net, [x])
        net.train()
        for _ in range(50):  # the decoder's normalisations settle; the trunk's hardly move
            net(x)
        net.maps.weight *= 60  # peaked maps, so that which cell is best is beyond doubt
    return net.eval()


def main():
    a = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    a.add_argument("--state", help="state of model.Eye, written by torch.save")
    a.add_argument("--trunk", help="without --state: the trunk's weights")
    a.add_argument("--seed", type=int, default=1)
    a.add_argument("--calibration")
    a.add_argument("--weights")
    a.add_argument("--vectors")
    a.add_argument("--onnx")
    a = a.parse_args()
    if a.state:
        net = model.Eye()
        state = torch.load(a.state, map_location="cpu")
        net.load_state_dict(state.get("net", state))
    else:
        net = untaught(a.trunk, a.seed)
    calibration = read_calibration(a.calibration)
    net = folded(net)
    if a.weights:
        data = pack(tensors(net, calibration))
        pathlib.Path(a.weights).write_bytes(data)
        print(f"{a.weights}: {len(data)} bytes")
    if a.vectors:
        print(f"{a.vectors}: {vectors(net, a.vectors, calibration)} pictures")
    if a.onnx:
        torch.onnx.export(net, torch.zeros(1, model.CHANNELS, 256, 256), a.onnx, opset_version=12,
                          input_names=["picture"], output_names=["features", "maps", "absent"])
        print(a.onnx)


if __name__ == "__main__":
    main()
