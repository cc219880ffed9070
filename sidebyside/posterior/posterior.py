"""The posterior of a drive after readings, by SciPy: the drive of state.py, the readings' likelihood written down anew.

The most probable point is found by least_squares, its Laplace approximation walked by an adaptive Metropolis chain.
"""
import copy
import json
import math
import os
import sys
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from scipy.optimize import least_squares
from scipy.special import ndtr
from scipy.stats import t as student

sys.path.insert(0, os.path.join(os.path.dirname(__file__), ".."))
from state import Drive

EVALUATIONS = 12000


class Posterior:
    def __init__(self, data):
        self.data = data
        self.unknowns = data["unknowns"]
        self.steps = data["steps"]
        self.n = len(self.unknowns)
        # unknowns, head and power beside their ranges, power, thrust and speed instruments, scatter of each power, drift
        self.k = self.n + 2 + 3 + len(self.steps) + 1

    def drive(self, z):
        d = copy.deepcopy(self.data["drive"])
        for u, x in zip(self.unknowns, z):
            section, key = u["path"].split(".")
            d[section][key] = u["Low"] + (u["High"] - u["Low"]) * float(ndtr(x))
        m = Drive(d, self.data["water"])
        m.d["impeller"]["head_coefficient"] *= math.exp(0.10 * z[self.n])  # after the design point is placed
        m.eta *= math.exp(-0.10 * z[self.n + 1])
        return m

    def residuals(self, z):
        n, (lt, lp, ls), (rt, rp, rs) = self.n, self.data["limits"], self.data["repeat"]
        m = self.drive(z)
        power, thrust, speed = (2 * float(ndtr(z[n + 2 + i])) - 1 for i in range(3))
        drift = 0.05 * math.sqrt(4 / 6) * float(student.ppf(ndtr(z[-1]), 6))
        top = max(s["Power"] for s in self.steps)
        r = []
        for i, s in enumerate(self.steps):
            w = s["Power"]
            flows = (w - lp * w * power) * math.exp(-rp * z[n + 5 + i])
            a = m.solve({"speed": 0, "demand": "battery power", "amount": flows, "on_stand": True})
            pull = a["thrust"] * math.exp(2 / 3 * drift * math.log2(w / top))
            r.append((pull + lt * s["Thrust"] * thrust - s["Thrust"]) / (rt * s["Thrust"]))
            r.append((a["rotor_speed"] + ls * s["Speed"] * speed - s["Speed"]) / (rs * s["Speed"]))
        return np.array(r)

    def log(self, z):
        try:
            r = self.residuals(z)
        except (ValueError, ZeroDivisionError, OverflowError):
            return -math.inf
        return -0.5 * float(z @ z) - 0.5 * float(r @ r)


def effective(x):
    n = len(x)
    x = x - x.mean()
    f = np.fft.rfft(x, 2 * n)
    rho = np.fft.irfft(f * np.conj(f))[:n]
    rho /= rho[0]
    total, last = -1.0, math.inf
    for t in range(0, n - 1, 2):
        pair = rho[t] + rho[t + 1]
        if pair < 0:
            break
        last = min(last, pair)
        total += 2 * last
    return n / total


def main():
    p = Posterior(json.load(sys.stdin))
    rng = np.random.default_rng(1)
    start = time.perf_counter()
    best = least_squares(lambda z: np.concatenate([p.residuals(z), z]), np.zeros(p.k), method="lm", x_scale=1.0, diff_step=1e-6)
    root = np.linalg.cholesky(np.linalg.inv(best.jac.T @ best.jac))
    z, here = best.x.copy(), p.log(best.x)
    scale, points = 2.4 / math.sqrt(p.k), []
    for i in range(EVALUATIONS):
        to = z + scale * (root @ rng.standard_normal(p.k))
        there = p.log(to)
        take = math.log(rng.random()) < there - here
        if take:
            z, here = to, there
        if i < EVALUATIONS // 5:
            scale *= math.exp((take - 0.25) / math.sqrt(i + 1))
        else:
            points.append(z)
    seconds = time.perf_counter() - start
    x = np.array(points)
    names = [u["path"] for u in p.unknowns] + ["pump head, beside its range", "pump power, beside its range"]
    sizes = [effective(x[:, j]) for j in range(p.k)]
    out = {n: {"Mean": float(x[:, j].mean()), "SD": float(x[:, j].std()), "Error": float(x[:, j].std() / math.sqrt(sizes[j]))} for j, n in enumerate(names)}
    json.dump({"Unknowns": out, "Seconds": seconds, "Effective": min(sizes)}, sys.stdout)


main()
