"""Makes what the eye says of its own sureness true on pictures it did not learn from.

    calibrate.py STATE FOLDER[,FOLDER...] OUT.json

looks at the scenes kept out of FOLDERs and writes, for export.py, a factor for each
keypoint's covariance: such that 86 % of the truths lie within 2 sigma (Rayleigh). A
factor is never under 1: other cameras are not surer than these pictures.
"""
import json
import sys

import numpy as np
import torch

import data as pictures
import evaluate
from model import Eye
from points import MIRRORED, POINTS


def main(state, folders, out):
    net = Eye()
    evaluate.start(net, state)
    m2, states = [], []
    for folder in folders.split(","):
        scenes = [s for s in pictures.rows(folder) if s["held"]]
        data = pictures.Pictures(scenes, folder, torch.device("cpu"), 2)
        index = torch.tensor([i for i, m in enumerate(data.meta) if m["name"].startswith("now") or m["name"] == "address"])
        for mirror in (False, True):
            _, d, s, *_ = evaluate.look(net, data, index, mirror=mirror, batch=32)
            m2.append(d)
            states.append(s)
    m2, states = np.concatenate(m2), np.concatenate(states)
    factor = []
    for p, q in enumerate(MIRRORED):   # both sides together
        v = np.concatenate([m2[:, p][states[:, p] == 2], m2[:, q][states[:, q] == 2]])
        factor.append(round(float(max(1.0, np.quantile(v, 0.86) / 4)), 3) if len(v) > 20 else 1.5)
    json.dump({"temperature": 1.0, "covariance": factor}, open(out, "w"))
    print({n: f for n, f in zip(POINTS, factor)})


if __name__ == "__main__":
    main(*sys.argv[1:4])
