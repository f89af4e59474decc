"""Pictures and truth as scene.py writes them, held on the card while learning.

Every line of truth-*.jsonl is a scene: {scene, held, size, side, f, px_per_m, pictures:
[{file, name, kind, speed, points: K x [x, y, depth, state]}]}. x, y in pixels of the
picture, the middle of the first at 0.5; state 0 not in the picture, 1 hidden, 2 seen, -1
not known (never learnt from). px_per_m at depth z is f / z / side * size.
"""
import glob
import json
import os
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import torch

try:
    import cv2
    cv2.setNumThreads(1)
except ImportError:
    cv2 = None


def decode(path):
    """RGB 3 x S x S uint8."""
    if cv2 is None:
        from PIL import Image
        return np.asarray(Image.open(path).convert("RGB")).transpose(2, 0, 1)
    return cv2.imread(path, cv2.IMREAD_COLOR)[:, :, ::-1].transpose(2, 0, 1)


def smoothed(x, colour=28.0, space=2.0):
    """The bilateral filter (Tomasi and Manduchi 1998) of N x 3 x S x S uint8, within two pixels; differences of
    colour are summed over the channels. For path-traced grain: cameras have grain of their own, which learning adds."""
    x = x.float()
    wide = torch.nn.functional.pad(x, (2, 2, 2, 2), mode="reflect")
    s, total = torch.zeros_like(x), torch.zeros_like(x[:, :1])
    for i in range(-2, 3):
        for j in range(-2, 3):
            r2 = i * i + j * j
            if r2 > 4:
                continue
            y = wide[..., 2 + i:wide.shape[2] - 2 + i, 2 + j:wide.shape[3] - 2 + j]
            w = torch.exp(-0.5 * (((y - x).abs().sum(1, keepdim=True) / colour) ** 2 + r2 / space ** 2))
            s, total = s + w * y, total + w
    return (s / total).round().to(torch.uint8)


def rows(folder):
    out = []
    for f in sorted(glob.glob(os.path.join(folder, "truth-*.jsonl"))):
        for l in open(f):
            if l.endswith("}\n"):
                out.append(json.loads(l))
    return out


class Pictures:
    """x: N x 3 x S x S uint8; points: N x K x 4 (pixels of 320 x 320 whatever S was);
    before, empty, address: indices of companions, -1 where there is none."""

    def __init__(self, scenes, folder, device, threads=8, limit=None, seed=0, only_now=False):
        self.meta, files = [], []
        before, empty, address = [], [], []
        points = []
        for sc in scenes:
            base = {p["name"]: len(files) + i for i, p in enumerate(sc["pictures"])}
            for p in sc["pictures"]:
                n = p["name"]
                files.append(os.path.join(sc.get("folder", folder), p["file"]))
                before.append(base.get(n.replace("now", "before"), -1) if n.startswith("now") else -1)
                empty.append(base.get("empty", -1) if n != "empty" else -1)
                address.append(base.get("address", -1) if n not in ("address",) else -1)
                q = np.array(p["points"], np.float32)
                q[:, :2] *= 320 / sc["size"]
                points.append(q)
                self.meta.append({"scene": sc["scene"], "view": sc.get("view", ""), "kind": p["kind"], "speed": p["speed"] * 320 / sc["size"], "name": n,
                                  "scale": sc["f"] / sc["side"] * 320, "body": sc.get("body", ""), "club": sc.get("club", ""), "shaft": sc.get("shaft", ""),
                                  "set": sc.get("set", ""), "window": sc.get("window", "")})
        n = len(files)
        x = torch.empty(n, 3, 320, 320, dtype=torch.uint8)
        view = x.numpy()
        r = np.random.default_rng(seed)
        smooth = r.random(n) < 0.8
        for i in range(1, n):   # a scene's pictures alike, or differences would show it
            if self.meta[i]["scene"] == self.meta[i - 1]["scene"]:
                smooth[i] = smooth[i - 1]

        def one(i):
            a = decode(files[i])
            if a.shape[1] != 320:
                a = cv2.resize(np.ascontiguousarray(a.transpose(1, 2, 0)), (320, 320), interpolation=cv2.INTER_AREA).transpose(2, 0, 1) if cv2 is not None else resize(a)
            view[i] = a
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(one, range(n), chunksize=64))
        self.x = x.to(device)
        for some in torch.from_numpy(smooth.nonzero()[0]).to(device).split(64):
            self.x[some] = smoothed(self.x[some])
        self.points = torch.from_numpy(np.stack(points)).to(device)
        as_t = lambda v: torch.tensor(v, device=device)
        self.before, self.empty, self.address = as_t(before), as_t(empty), as_t(address)

    def __len__(self):
        return len(self.meta)


def resize(a):
    from PIL import Image
    return np.asarray(Image.fromarray(np.ascontiguousarray(a.transpose(1, 2, 0))).resize((320, 320), Image.BOX)).transpose(2, 0, 1)
