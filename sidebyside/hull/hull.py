"""Balances of planing hulls, written down separately from the tool: lift and moment as two equations in trim and wetted
length, by SciPy's fsolve from where a scan of the trim by brentq changes its sign."""

import json
import math
import sys
import time

from scipy.optimize import brentq, fsolve


def friction(h, reynolds, length):
    if h["line"] == "schoenherr":
        smooth = brentq(lambda c: 0.242 / math.sqrt(c) - math.log10(reynolds * c), 1e-4, 0.1, xtol=1e-16)
    else:
        smooth = 0.075 / (math.log10(reynolds) - 2) ** 2
    if h["roughness"] == 0:
        return smooth
    rough = (1.89 + 1.62 * math.log10(length / h["roughness"])) ** -2.5
    return (smooth**8 + rough**8) ** 0.125


def spray(h, trim):
    if h["deadrise"] <= 0:
        return 0.0
    alpha = math.atan(math.pi / 2 * math.tan(trim) / math.tan(h["deadrise"]))
    theta = 2 * alpha / math.cos(h["deadrise"])
    if theta >= math.pi / 2:
        return 0.0
    length = 1 / (4 * math.sin(2 * alpha) * math.cos(h["deadrise"]))
    reynolds = h["speed"] * length * h["beam"] / h["viscosity"]
    cf = 1.328 / math.sqrt(reynolds) if reynolds < 1.5e6 else 0.074 / reynolds**0.2 - 4800 / reynolds
    return 0.5 * h["density"] * h["speed"] ** 2 * math.cos(theta) * length * h["beam"] ** 2 * cf


def lift(h, trim, wetted):
    """Lift less weight over the weight: the flat bottom's coefficient first, then what deadrise takes."""
    cv = h["speed"] / math.sqrt(h["gravity"] * h["beam"])
    flat = math.degrees(trim) ** 1.1 * (0.0120 * math.sqrt(wetted) + 0.0055 * wetted**2.5 / cv**2)
    c = flat - 0.0065 * math.degrees(h["deadrise"]) * flat**0.6
    return 0.5 * h["density"] * h["speed"] ** 2 * h["beam"] ** 2 * c / (h["mass"] * h["gravity"]) - 1


def forces(h, trim, wetted):
    v, b = h["speed"], h["beam"]
    weight = h["mass"] * h["gravity"]
    cv = v / math.sqrt(h["gravity"] * b)
    dynamic = 0.0120 * math.sqrt(wetted) * math.degrees(trim) ** 1.1
    dynamic -= 0.0065 * math.degrees(h["deadrise"]) * dynamic**0.6
    bottom = v * math.sqrt(1 - dynamic / (wetted * math.cos(trim)))
    reynolds = bottom * wetted * b / h["viscosity"]
    along = 0.5 * h["density"] * bottom**2 * wetted * b**2 * friction(h, reynolds, wetted * b) / math.cos(h["deadrise"]) + spray(h, trim)
    centre = (0.75 - 1 / (5.21 * cv**2 / wetted**2 + 2.39)) * wetted * b
    c = h["centre"] - centre
    a = h["height"] - b / 4 * math.tan(h["deadrise"])
    f = h["height"] * math.cos(h["angle"]) - h["thrust"]
    s, k = math.sin(trim), math.cos(trim)
    moment = weight * ((1 - s * math.sin(trim + h["angle"])) * c / k - f * s) + along * (a - f) - h["air"] * f
    return moment / (weight * b), weight * math.tan(trim) + along / k


def wetted_at(h, trim):
    return brentq(lambda l: lift(h, trim, l), 1e-9, 1e4, xtol=1e-15, rtol=1e-14)


def balance(h):
    low, high = math.radians(0.05), math.radians(60)

    def moment(trim):
        return forces(h, trim, wetted_at(h, trim))[0]

    steps = [low * (high / low) ** (i / 24) for i in range(25)]
    for p, q in zip(steps, steps[1:]):
        if moment(p) <= 0 < moment(q):
            start = brentq(moment, p, q, xtol=1e-6)
            break
    else:
        return None
    x = fsolve(lambda u: [lift(h, u[0], u[1]), forces(h, u[0], u[1])[0]], [start, wetted_at(h, start)], xtol=1e-13)
    return {"trim": x[0], "wetted": x[1], "drag": forces(h, x[0], x[1])[1]}


hulls = json.load(sys.stdin)
begin = time.perf_counter()
rows = [balance(h) for h in hulls]
json.dump({"rows": rows, "seconds": (time.perf_counter() - begin) / len(hulls)}, sys.stdout)
