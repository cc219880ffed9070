"""Networks of heat by SciPy's stiff solvers: the same equations, written down separately.

Reads a JSON object on standard input: "networks" (each with "Network" and "Legs"), "every" (seconds
between rows), "usual" (kelvin). Writes for BDF, Radau and LSODA the rows of each network at a tight
tolerance, and the best processor time of each network at the usual one.
"""
import json
import math
import os
import sys
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small matrices gain nothing by threads

import numpy as np
from scipy.integrate import solve_ivp

FLAT = 0.01  # K within which natural convection is conduction


class System:
    def __init__(self, net):
        self.names = [n["Name"] for n in net["Nodes"]]
        at = {n: i for i, n in enumerate(self.names)}
        self.cap = np.array([n["Capacity"] if not n["Fixed"] else math.inf for n in net["Nodes"]])
        self.start = np.array([n["Start"] for n in net["Nodes"]])
        n = len(self.names)
        self.cond = np.zeros((n, n))
        self.natural = []
        for c in net["Conductances"]:
            a, b = at[c["From"]], at[c["To"]]
            if c["Law"] == 0:
                self.cond[a, a] -= c["Value"]
                self.cond[b, b] -= c["Value"]
                self.cond[a, b] += c["Value"]
                self.cond[b, a] += c["Value"]
            else:
                self.natural.append((a, b, c["Value"], c["Reference"], c["Exponent"]))
        self.a = np.array([x[0] for x in self.natural], dtype=int)
        self.b = np.array([x[1] for x in self.natural], dtype=int)
        self.g = np.array([x[2] for x in self.natural])
        self.ref = np.array([x[3] for x in self.natural])
        self.exp = np.array([x[4] for x in self.natural])
        self.path = [at[p] for p in net["Streams"][0]["Path"]]
        self.sources = [(at[s["Node"]], s["Alpha"], s["Reference"]) for s in net["Sources"]]

    def leg(self, leg):
        m = self.cond.copy()
        c = np.zeros(len(self.names))
        w = leg["Flow"][0]
        for up, down in zip(self.path, self.path[1:]):
            m[down, down] -= w
            m[down, up] += w
        for (k, alpha, ref), p in zip(self.sources, leg["Power"] or []):
            m[k, k] += p * alpha
            c[k] += p * (1 - alpha * ref)
        inverse = 1 / self.cap
        m *= inverse[:, None]
        c *= inverse

        def rate(t, y):
            f = m @ y + c
            if len(self.a):
                d = y[self.a] - y[self.b]
                q = self.g * ((d * d + FLAT * FLAT) / self.ref**2) ** (self.exp / 2) * d
                np.subtract.at(f, self.a, q * inverse[self.a])
                np.add.at(f, self.b, q * inverse[self.b])
            return f

        def slope(t, y):
            j = m.copy()
            if len(self.a):
                d = y[self.a] - y[self.b]
                x = d * d + FLAT * FLAT
                p = self.g * (x / self.ref**2) ** (self.exp / 2)
                s = p + p * self.exp * d * d / x
                for a, b, v in zip(self.a, self.b, s):
                    j[a, a] -= v * inverse[a]
                    j[a, b] += v * inverse[a]
                    j[b, b] -= v * inverse[b]
                    j[b, a] += v * inverse[b]
            return j

        return rate, slope

    def run(self, legs, every, method, rtol, atol):
        y, t, rows, row = self.start, 0.0, [self.start], 1
        for leg in legs:
            rate, slope = self.leg(leg)
            end = t + leg["Duration"]
            at = []
            while row * every <= end * (1 + 1e-12):
                at.append(min(row * every, end))
                row += 1
            s = solve_ivp(rate, (t, end), y, method=method, rtol=rtol, atol=atol, jac=slope, t_eval=at + ([end] if not at or at[-1] < end else []))
            if not s.success:
                raise RuntimeError(s.message)
            rows += list(s.y.T[: len(at)])
            y, t = s.y[:, -1], end
        return rows


def main():
    data = json.load(sys.stdin)
    systems = [(System(m["Network"]), m["Legs"]) for m in data["networks"]]
    every, usual = data["every"], data["usual"]
    out = []
    for method in ("LSODA", "BDF", "Radau"):
        rows, seconds = [], []
        for system, legs in systems:
            rows.append([list(map(float, r)) for r in system.run(legs, every, method, 1e-11, 1e-9)])
            best = math.inf
            for _ in range(2):
                start = time.process_time()
                # the tolerance is on temperatures of some 300 K: a thousandth of a kelvin is 3e-6 of them
                system.run(legs, every, method, 3e-6, usual / 10)
                best = min(best, time.process_time() - start)
            seconds.append(best)
        out.append({"Solver": method, "Rows": rows, "Seconds": seconds})
    json.dump(out, sys.stdout)


main()
