"""Pictures for the product's tests, from scenes that were kept out of learning.

    examples.py PICTURES OUT [--size 192] [--number 20]

writes NAME.png, NAME.change.png with the difference to the picture before where there is
one, and NAME.truth.json: each keypoint in view in the picture's pixels, and under
"scene" the camera and where each keypoint is in the bay frame (README.md says how a
point is projected).
"""
import argparse
import json
import os

import numpy as np
from PIL import Image

import data
from points import POINTS


def main():
    a = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    a.add_argument("pictures")
    a.add_argument("out")
    a.add_argument("--size", type=int, default=192)
    a.add_argument("--number", type=int, default=20)
    a = a.parse_args()
    os.makedirs(a.out, exist_ok=True)
    rows = [s for s in data.rows(a.pictures) if s["held"] and "camera" in s]
    chosen = []
    for name in ("now-0", "before-0"):
        for s in rows:
            p = {x["name"]: x for x in s["pictures"]}
            if name in p and sum(q[3] == 2 for q in p[name]["points"]) >= 3:
                chosen.append((s, p[name], p.get("before-0") if name == "now-0" else None))
    luma = lambda im: np.asarray(im, np.float32) @ np.array([0.299, 0.587, 0.114], np.float32)
    for i, (s, p, before) in enumerate(chosen[:a.number]):
        take = lambda x: Image.open(os.path.join(a.pictures, x["file"])).convert("RGB").resize((a.size, a.size), Image.LANCZOS)
        im, name = take(p), os.path.join(a.out, "bay-%02d" % i)
        im.save(name + ".png", optimize=True)
        if before:
            d = np.clip(np.round(luma(im) - luma(take(before))) + 128, 0, 255).astype(np.uint8)
            Image.fromarray(np.stack([d, np.full_like(d, 128), np.full_like(d, 128)], 2)).save(name + ".change.png", optimize=True)
        k = a.size / s["size"]
        t = {n: [round(q[0] * k, 3), round(q[1] * k, 3)] for n, q in zip(POINTS, p["points"]) if q[3] == 2}
        t["scene"] = {**s["camera"], "f": s["f"] * k, "side": s["side"] * k, "size": a.size, "at": {n: v for n, v in zip(POINTS, p["at"]) if v}}
        t["scene"]["centre"] = [round(c * k, 4) for c in s["camera"]["centre"]]
        json.dump(t, open(name + ".truth.json", "w"))
    print(min(len(chosen), a.number), "pictures")


if __name__ == "__main__":
    main()
