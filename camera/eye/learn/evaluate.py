"""How well the eye sees: the table of a set of pictures with truth.

    evaluate.py STATE FOLDER[,FOLDER...] [--all]

looks at the scenes kept out of FOLDERs (--all: every scene) and prints, for each keypoint
in view: median and 95th percentile of the distance in cm at the point's own depth, the
share over 10 cm, and how often the truth lies within 1 and 2 sigma (39 % and 86 % when
the ellipse says what it means: Rayleigh's distribution).
"""
import sys

import numpy as np
import torch

import augment
import data as pictures
from model import K, Eye, read
from points import POINTS


def start(net, path):
    """The weights to begin with: nothing, a trunk from photographs (.npz), a state (.pt),
    or what the product has (.weights)."""
    if path in ("nothing", ""):
        return
    if path.endswith(".npz"):
        import backbone
        backbone.load(net, path)
        return
    if path.endswith(".weights"):
        import export
        export.load(net, path)
        return
    net.load_state_dict(torch.load(path, map_location="cpu"))


@torch.no_grad()
def look(net, data, index, scale=288, motion=True, newness="address", mirror=None, batch=256):
    """Errors (cm), squared Mahalanobis distances, states, chances and where, for pictures."""
    was = net.training
    net.eval()
    rows = []
    dev = data.x.device
    f = torch.tensor([m["scale"] for m in data.meta], device=dev)
    for i in range(0, len(index), batch):
        idx = index[i:i + batch]
        m = None if mirror is None else torch.full((len(idx),), mirror, device=dev)
        x, xy, state, s = augment.batch(data, idx, strong=False, scale=scale, mirror=m, motion=motion, newness=newness)
        features, maps, absent = net(x.to(memory_format=torch.channels_last))
        at, cov, chance, seen = read(features, maps, absent, net)
        e = at - xy
        cov = cov + 1e-6 * torch.eye(2, device=dev)
        m2 = (e[..., None, :] @ torch.linalg.inv(cov) @ e[..., None])[..., 0, 0]
        z = data.points[idx][..., 2].clamp(min=0.1)
        per_m = f[idx][:, None] / z * (augment.SIDE / s[:, None])   # window pixels a metre
        rows.append([t.cpu().numpy() for t in (e.norm(dim=-1) / per_m * 100, m2, state, chance, seen, xy / per_m[..., None])])
    net.train(was)
    return [np.concatenate(c) for c in zip(*rows)]


def brief(net, data, n):
    """One line for the log: hands and head in cm, median and 95 %, and heads over 10 cm."""
    index = torch.arange(0, len(data), max(1, len(data) // n), device=data.x.device)
    err, _, state, *_ = look(net, data, index)
    out = []
    for p in (1, 3, 6, 12):
        v = err[:, p][state[:, p] == 2]
        if len(v):
            out.append("%s %.1f/%.1f, %.0f%% off" % (POINTS[p], np.median(v), np.percentile(v, 95), 100 * (v > 10).mean()))
    return "; ".join(out)


def line(name, e, m):
    if len(e) < 5:
        return "%-28s %6d" % (name, len(e))
    return "%-28s %6d %6.1f %6.1f %6.1f%% %5.0f %5.0f" % (name, len(e), np.median(e), np.percentile(e, 95), 100 * (e > 10).mean(), 100 * (m < 1).mean(), 100 * (m < 4).mean())


def table(net, data, **how):
    dev = data.x.device
    names = np.array([m["name"] for m in data.meta])
    keep = [i for i, n in enumerate(names) if not n.startswith("before")]
    index = torch.tensor(keep, device=dev)
    err, m2, state, chance, seen, where = look(net, data, index, **how)
    meta = [data.meta[i] for i in keep]
    z = data.points[index][..., 3, 2].clamp(min=0.1).cpu().numpy()
    speed = np.array([m["speed"] for m in meta]) / (np.array([m["scale"] for m in meta]) / z)   # m/s of the head
    moving = speed > 0.3
    apart = np.linalg.norm(where[:, 1] - where[:, 3], axis=1)
    end_on = (apart < 0.2) & (state[:, 3] > 0) & (state[:, 1] > 0)
    club = np.array([m["kind"] in ("hold", "address") for m in meta])
    far = np.array([m.get("window", "") == "far" for m in meta])
    black = np.array([m["club"] == "wedge" and m["shaft"] == "black" for m in meta])
    out = ["%-28s %6s %6s %6s %7s %5s %5s" % ("cm", "n", "median", "95 %", "> 10 cm", "1 s", "2 s")]
    pick = lambda p, on: (err[:, p][on & (state[:, p] == 2)], m2[:, p][on & (state[:, p] == 2)])
    for p in (0, 1, 2, 3):
        n = POINTS[p]
        out.append(line(n + ", still", *pick(p, ~moving & ~far)))
        out.append(line(n + ", moving", *pick(p, moving & ~far)))
    for p in (1, 2, 3):
        out.append(line(POINTS[p] + ", hold", *pick(p, club & ~far)))
        out.append(line(POINTS[p] + ", end-on", *pick(p, end_on & ~far)))
        out.append(line(POINTS[p] + ", end-on hold", *pick(p, end_on & ~moving & ~far)))
    out.append(line("head, black wedge", *pick(3, black & ~far)))
    out.append(line("head, far window", *pick(3, far)))
    out.append(line("head, above 6 m/s", *pick(3, (speed > 6) & ~far)))
    for v in ("line", "front", "between"):
        on = np.array([m["view"] == v for m in meta])
        out.append(line("head, view " + v, *pick(3, on & ~far)))
    joints = list(range(4, 18))
    for p in joints:
        out.append(line(POINTS[p], *pick(p, ~far)))
    for t, on in (("joints, still", ~moving & ~far), ("joints, moving", moving & ~far)):
        e = np.concatenate([pick(p, on)[0] for p in joints])
        out.append(line(t, e, np.concatenate([pick(p, on)[1] for p in joints])))
    out.append(line("ball", *pick(18, ~far)))
    nobody = np.array([m["kind"] == "nobody" for m in meta])
    if nobody.any():
        out.append("nobody there: hands claimed in %.2f %% of %d, neck in %.2f %%" % (100 * (chance[nobody, 1] > 0.5).mean(), nobody.sum(), 100 * (chance[nobody, 5] > 0.5).mean()))
    there = state[:, 1] == 2
    out.append("hands in view: chance under 0.5 in %.2f %%" % (100 * (chance[there, 1] < 0.5).mean() if there.any() else 0))
    p = 3
    on = state[:, p] == 2
    for lo, hi in ((0, 0.3), (0.3, 0.6), (0.6, 0.9), (0.9, 1.01)):
        k = on & (chance[:, p] >= lo) & (chance[:, p] < hi)
        if k.any():
            out.append("head with chance %.1f to %.1f: %d, over 10 cm %.1f %%" % (lo, hi, k.sum(), 100 * (err[k, p] > 10).mean()))
    return "\n".join(out)


def main():
    dev = "cuda" if torch.cuda.is_available() else "cpu"
    net = Eye().to(dev)
    start(net, sys.argv[1])
    for folder in sys.argv[2].split(","):
        scenes = [s for s in pictures.rows(folder) if s["held"] or "--all" in sys.argv]
        data = pictures.Pictures(scenes, folder, dev, 2)
        print(folder, len(data), "pictures, with motion and newness")
        print(table(net, data))
        if "--plain" in sys.argv:
            print("colour alone")
            print(table(net, data, motion=False, newness="none"))


if __name__ == "__main__":
    main()
