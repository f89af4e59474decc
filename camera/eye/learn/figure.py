"""Plain figures: people put together of capsules on the skeleton of a dressed body (numpy only).

They hold and swing as the body does; nothing of cloth, face or fingers is left. An eye that
has seen them too goes by what a person does, not by how one renderer dresses it.
"""
import copy

import numpy as np

SKIN, GLOVE, SHIRT, TROUSERS, SHOE, HAIR, CAP = 0, 1, 2, 3, 4, 6, 8


def capsule(a, b, ra, rb, flat=1.0, n=12, m=4):
    """From a to b (3), radii ra and rb (m), `flat` times as deep along Y as along X:
    vertices and triangles."""
    d = b - a
    length = np.linalg.norm(d)
    z = d / length if length > 1e-6 else np.array([0, 0, 1.0])
    x = np.cross([0, 1.0, 0], z)
    x = x / np.linalg.norm(x) if np.linalg.norm(x) > 0.1 else np.array([1.0, 0, 0])
    y = np.cross(z, x)
    rows = [(-ra * np.cos(t), ra * np.sin(t)) for t in np.linspace(0.05, np.pi / 2, m)]
    rows += [(length + rb * np.sin(t), rb * np.cos(t)) for t in np.linspace(0, np.pi / 2 - 0.05, m)]
    phi = np.arange(n) * 2 * np.pi / n
    v = np.concatenate([a + h * z + r * (np.cos(phi)[:, None] * x + flat * np.sin(phi)[:, None] * y) for h, r in rows])
    t = []
    for j in range(len(rows) - 1):
        for i in range(n):
            k = (i + 1) % n
            t += [(j * n + i, j * n + k, (j + 1) * n + k), (j * n + i, (j + 1) * n + k, (j + 1) * n + i)]
    t += [(0, i + 1, i) for i in range(1, n - 1)]
    last = (len(rows) - 1) * n
    t += [(last, last + i, last + i + 1) for i in range(1, n - 1)]
    return v, np.array(t)


def plain(body, r):
    """A body of the same skeleton and poses whose mesh is of capsules, drawn by r."""
    u, bone, joint, tail = r.uniform, body.bones, body.joints, body.tails
    parts = []   # bones of either end, ends, radii, flatness, material

    def add(b, a, c, ra, rc, material, flat=1.0, other=None):
        parts.append((bone[b], bone[other or b], np.asarray(a, float), np.asarray(c, float), ra, rc, flat, material))
    j = lambda n: joint[bone[n]]
    k = body.stature / 1.78 * u(0.9, 1.12)
    sleeve, leg = (SHIRT if u(0, 1) < 0.5 else SKIN), (TROUSERS if u(0, 1) < 0.7 else SKIN)
    left = GLOVE if u(0, 1) < 0.5 else SKIN
    waist, chest = u(0.12, 0.17) * k, u(0.14, 0.2) * k
    depth = u(0.55, 0.8)
    add("pelvis", j("pelvis") + [0, -0.03, -0.04], j("spine2") + [0, -0.01, 0], u(0.13, 0.17) * k, waist, TROUSERS, u(0.65, 0.9))
    add("spine2", j("spine2"), j("spine5") + [0, -0.03, 0.02], waist, chest, SHIRT, depth, "spine4")
    if u(0, 1) < 0.7:   # a bar of shoulders
        for s in "LR":
            add("clavicle." + s, j("spine5") + [0, -0.05, 0.11 * k], j("upperarm." + s), u(0.06, 0.09) * k, u(0.05, 0.07) * k, SHIRT)
    add("spine5", j("spine5") + [0, -0.03, 0.02], j("neck1") - [0, 0, 0.06], chest, u(0.07, 0.12) * k, SHIRT, depth)
    add("neck1", j("neck1") - [0, 0, 0.05], j("head"), u(0.045, 0.065) * k, u(0.045, 0.06) * k, SKIN)
    top = tail[bone["head"]]
    skull = u(0.085, 0.11) * k
    add("head", top - [0, 0, 2 * skull - u(0, 0.05)], top - [0, 0, skull], u(0.07, 0.1) * k, skull, SKIN, u(0.9, 1.15))
    if u(0, 1) < 0.6:
        add("head", top - [0, -0.015, skull * 0.92], top - [0, -0.01, skull * 0.85], skull * 1.04, skull * 1.02, HAIR if u(0, 1) < 0.5 else CAP)
    if u(0, 1) < 0.4:   # a peak
        add("head", top - [0, skull, skull * 0.8], top - [0, skull * 1.9, skull * 0.95], skull * 0.6, skull * 0.55, CAP, 0.2)
    arm, fore = u(0.04, 0.058) * k, u(0.034, 0.046) * k
    fingers, palm = u(0.009, 0.024), u(0.028, 0.042) * k
    for s in "LR":
        skin = left if s == "L" else SKIN
        add("upperarm." + s, j("upperarm." + s), j("forearm." + s), arm * u(1, 1.2), arm, SHIRT if u(0, 1) < 0.8 else sleeve, other="upperarm2." + s)
        add("forearm." + s, j("forearm." + s), j("hand." + s), fore * u(1, 1.15), fore * 0.8, sleeve, other="forearm2." + s)
        knuckles = np.mean([j(f + "1." + s) for f in ("index", "middle", "ring", "little")], 0)
        add("hand." + s, j("hand." + s), j("hand." + s) + 0.8 * (knuckles - j("hand." + s)), fore * 0.9, palm, skin, u(0.6, 1))
        for f in ("thumb", "index", "middle", "ring", "little"):
            for i in "123":
                b = f + i + "." + s
                end = j(f + str(int(i) + 1) + "." + s) if i != "3" else tail[bone[b]]
                add(b, j(b), end, fingers, fingers * 0.9, skin)
        add("thigh." + s, j("thigh." + s), j("shin." + s), u(0.07, 0.1) * k, u(0.05, 0.068) * k, TROUSERS)
        add("shin." + s, j("shin." + s), j("foot." + s), u(0.045, 0.065) * k, u(0.035, 0.05) * k, leg)
        foot = j("foot." + s)
        heel = np.array([foot[0], foot[1] + 0.05, 0.045])
        add("foot." + s, heel, np.array([foot[0], j("toe." + s)[1] - 0.05, 0.035]), 0.045, 0.035, SHOE, u(0.8, 1))
    out = copy.copy(body)
    v, t, m, index, weight, n = [], [], [], [], [], 0
    for b0, b1, a, c, ra, rc, flat, material in parts:
        pv, pt = capsule(a, c, ra, rc, flat, n=8 if rc < 0.02 else 14)
        w = np.clip(((pv - a) @ (c - a)) / max((c - a) @ (c - a), 1e-9), 0, 1)
        v.append(pv)
        t.append(pt + n)
        m.append(np.full(len(pt), material))
        index.append(np.stack([np.full(len(pv), b0), np.full(len(pv), b1)], 1))
        weight.append(np.stack([1 - w, w], 1))
        n += len(pv)
    out.vertices, out.triangles = np.concatenate(v).astype(np.float32), np.concatenate(t).astype(np.int32)
    out.material, out.index = np.concatenate(m), np.concatenate(index)
    out.weight = np.concatenate(weight).astype(np.float32)
    out.name = body.name + "-plain"
    return out
