"""Colours of people and things."""
import numpy as np


def look(r, kind):
    """A linear colour for skin, hair or cloth."""
    u = r.uniform
    if kind == "skin":
        t = u(0, 1) ** 1.3
        return np.array([0.62, 0.42, 0.33]) * (1 - t) + np.array([0.06, 0.035, 0.022]) * t
    if kind == "hair":
        return np.array([(0.01, 0.008, 0.006), (0.06, 0.03, 0.015), (0.3, 0.18, 0.07), (0.35, 0.34, 0.33), (0.15, 0.04, 0.01)][int(r.integers(5))]) * u(0.7, 1.3)
    if r.random() < 0.45:   # black, grey, white
        return np.full(3, u(0.005, 1) ** 2 * 0.85) * (1 + r.normal(0, 0.03, 3))
    h, s, v = u(0, 1), u(0.2, 1), u(0.02, 0.8)
    k = np.clip(np.abs((h * 6 + np.array([0, 4, 2])) % 6 - 3) - 1, 0, 1)
    return v * (1 - s + s * k)
