"""Clubs: what they measure, their look, and the meshes of their parts (numpy only)."""
import math

import numpy as np

# Length (m), lie (degrees), loft (degrees), head: common practice.
KINDS = {"wedge": (0.89, 64, 54, "blade"), "iron9": (0.91, 63.5, 42, "blade"), "iron7": (0.94, 62, 33, "blade"),
         "iron5": (0.965, 61, 26, "blade"), "hybrid": (1.00, 60, 21, "small wood"), "wood": (1.08, 58, 15, "wood"),
         "driver": (1.14, 57, 10, "wood")}


class Club:
    def __init__(self, r, scale, held, plain=False):
        """A random club for a player of a size (1 is 1.78 m). Black-shafted wedges are
        drawn only where `held` (kept out of learning). Where people are `plain` figures,
        heads about the axis are the rule: other renderers are simple in both."""
        names = list(KINDS)
        self.kind = str(r.choice(names, p=[0.16, 0.14, 0.26, 0.12, 0.08, 0.08, 0.16]))
        length, lie, self.loft, self.head = KINDS[self.kind]
        self.length = length * (0.5 + 0.5 * scale) * r.uniform(0.97, 1.03)
        self.lie = lie + r.normal(0, 1.0)
        self.grip = r.uniform(0.055, 0.1)   # the lead hand's middle below the butt
        self.hands_to_head = self.length - self.grip
        self.look = str(r.choice(["steel", "graphite", "black", "white", "paint"], p=[0.36, 0.2, 0.2, 0.1, 0.14]))
        if held and r.random() < 0.5:
            self.kind, self.look = "wedge", "black"
            length, lie, self.loft, self.head = KINDS["wedge"]
        if self.kind == "wedge" and self.look in ("black", "graphite") and not held:
            self.look = "steel"
        self.butt, self.tip = r.uniform(0.0068, 0.008), r.uniform(0.0042, 0.005)  # radii, m
        self.hosel = r.uniform(0.045, 0.07) if self.head == "blade" else r.uniform(0.02, 0.04)
        self.size = r.uniform(0.85, 1.15)
        if r.random() < (0.6 if plain else 0.2):   # trainers' clubs and the like: a head about the axis
            self.head, self.hosel = str(r.choice(["block", "egg"])), r.uniform(0.02, 0.05)
        self.tape = r.random() < 0.12


def tube(r0, r1, n=10):
    """Along +Z from 0 to 1: vertices, faces."""
    a = np.arange(n) * 2 * math.pi / n
    ring = np.stack([np.cos(a), np.sin(a), 0 * a], 1)
    v = np.concatenate([ring * [r0, r0, 0], ring * [r1, r1, 0] + [0, 0, 1]])
    f = [(i, (i + 1) % n, n + (i + 1) % n, n + i) for i in range(n)] + [tuple(range(n))[::-1], tuple(range(n, 2 * n))]
    return v, f


def blade(loft, size):
    """An iron's head. Its frame: x along the sole from heel to toe, y the face's normal
    toward the target, z up; the origin where the shaft's axis meets the sole."""
    prof = np.array([[-0.014, 0.004], [0.0, 0.0], [0.03, -0.002], [0.062, 0.003], [0.074, 0.02], [0.072, 0.047],
                     [0.062, 0.056], [0.03, 0.043], [0.0, 0.033], [-0.012, 0.028]]) * size
    t = math.radians(loft)
    v = []
    for side in (0, 1):
        for x, z in prof:
            thick = 0.019 - 0.22 * max(z, 0)
            y = -z * math.tan(t) * 0.7 - (thick * size if side else 0) + 0.006
            v.append((x, y, z))
    n = len(prof)
    f = [tuple(range(n)), tuple(range(n, 2 * n))[::-1]] + [(i, n + i, n + (i + 1) % n, (i + 1) % n) for i in range(n)]
    return np.array(v), f


def block():
    """A head whose middle is on the axis, of size 1; see Rod for its measures."""
    v = [(x, y, z) for z in (0, 1) for x, y in ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))]
    return np.array(v), [(3, 2, 1, 0), (4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)]


def egg():
    """A rounded head whose middle is on the axis, in the same frame and size as block."""
    v, f, n, m = [], [], 12, 7
    for j in range(m):
        th = math.pi * (j + 0.5) / m
        for i in range(n):
            a = 2 * math.pi * i / n
            v.append((0.5 * math.sin(th) * math.cos(a), 0.5 * math.sin(th) * math.sin(a), 0.5 - 0.5 * math.cos(th)))
    for j in range(m - 1):
        for i in range(n):
            f.append((j * n + i, j * n + (i + 1) % n, (j + 1) * n + (i + 1) % n, (j + 1) * n + i))
    f += [tuple(range(n))[::-1], tuple(range((m - 1) * n, m * n))]
    return np.array(v), f


def wood(small, size):
    """A wood's head in the same frame: a flattened ball, flat at the face."""
    long, deep, high = (0.05, 0.035, 0.02) if small else (0.06, 0.055, 0.031)
    v, f, n, m = [], [], 16, 9
    for j in range(m):
        th = math.pi * (j + 0.5) / m
        for i in range(n):
            a = 2 * math.pi * i / n
            x, y, z = math.sin(th) * math.cos(a), math.sin(th) * math.sin(a), -math.cos(th)
            y = min(y, 0.45)
            v.append((0.036 + long * x, -0.01 + deep * (y - 0.45), high * (0.9 + (z if z < 0 else 0.95 * z))))
    for j in range(m - 1):
        for i in range(n):
            f.append((j * n + i, j * n + (i + 1) % n, (j + 1) * n + (i + 1) % n, (j + 1) * n + i))
    f += [tuple(range(n))[::-1], tuple(range((m - 1) * n, m * n))]
    return np.array(v) * size, f


def head_frame(shaft, toe, lie):
    """Columns: along the sole to the toe, the face's normal, up (a club soled at its lie)."""
    d = math.radians(90 - lie)
    x = toe * math.cos(d) + shaft * math.sin(d)
    y = np.cross(toe, shaft)
    return np.stack([x, y, np.cross(x, y)], 1)
