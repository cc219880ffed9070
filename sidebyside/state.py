"""One state of the drive by SciPy: the same equations, written down separately.

Reads a JSON object on standard input: "drive" (plain SI numbers of the design at its nominal),
"water" (properties), "conditions". Writes JSON on standard output: the figures of each condition
and the best time of a state in seconds. Two nested brentq searches: jet velocity for the balance
of heads, rotor speed for the demand.
"""
import json
import math
import sys
import time

from scipy.optimize import brentq

G = 9.80665


def circle(d):
    return math.pi / 4 * d * d


class Drive:
    def __init__(self, d, w):
        self.d, self.w = d, w
        im, nz, it = d["impeller"], d["nozzle"], d["intake"]
        self.rho, self.nu = w["density"], w["kinematic_viscosity"]
        self.a6 = circle(nz["diameter"])
        self.a7 = nz["contraction"] * self.a6
        pipe = circle(im["diameter"])
        self.a3 = pipe
        self.a2 = it.get("throat_area") or it["throat_area_ratio"] * pipe
        self.width = 1.3 * (it.get("width") or im["diameter"])
        co = d["cooling"]
        # coolant: A·sqrt(2Δp/(ρK)) with Δp = ρ/2·(1+ζ)·v²
        self.coolant = circle(co["tap_diameter"]) * math.sqrt((1 + nz["loss"]) / co["loss_coefficient"]) / self.a7
        m = d["motor"]
        self.k = 1 / m["speed_constant"]
        b = d["battery"]
        self.voc = b["series"] * (self.open_circuit(b["charge"]) + b["open_circuit_offset"])
        if b["cold_law"] == "arrhenius":
            cold = math.exp(math.log(b["cold_factor"]) * (1 / b["temperature"] - 1 / 298.15) / (1 / 280.15 - 1 / 298.15))
        else:
            cold = b["cold_factor"] ** ((298.15 - b["temperature"]) / 18)
        if b.get("low_charge_factor"):
            cold *= 1 + (b["low_charge_factor"] - 1) * math.exp((0.10 - b["charge"]) / 0.08)
        self.rb = b["series"] / b["parallel"] * b["cell_resistance"] * cold + b["joint_resistance"]
        self.idle_terms = self.no_load_terms()
        self.cable()
        self.place()

    def no_load_terms(self):
        """Loss by speed and its square: through two no-load points exactly, or from one and its share."""
        m = self.d["motor"]
        r = m["winding_resistance"]
        if m["no_load_voltages"]:
            (v1, v2), (i1, i2) = m["no_load_voltages"], m["no_load_currents"]
            w1, w2 = m["no_load_speeds"]
            p1, p2 = v1 * i1 - i1 * i1 * r, v2 * i2 - i2 * i2 * r
            square = (p2 / w2 - p1 / w1) / (w2 - w1)
            return p1 / w1 - square * w1, square
        w0 = (m["no_load_voltage"] - m["no_load_current"] * r) / self.k
        p0 = m["no_load_current"] * (m["no_load_voltage"] - m["no_load_current"] * r)
        return p0 * m["linear_share"] / w0, p0 * (1 - m["linear_share"]) / w0**2

    def cable(self):
        """Resistance of the cable at 20 °C and what a metre of it loses by degree."""
        b = self.d["battery"]
        self.cable_cold = None
        if not b.get("cable_area"):
            return
        self.air = b.get("cable_surroundings", b["temperature"])
        bound = b.get("cable_limit", 473.15)
        self.metre = 1.95e-8 / b["cable_area"]
        self.cable_cold = 2 * b["cable_length"] * self.metre
        bare = math.sqrt(4 * b["cable_area"] / (0.65 * math.pi))
        over = bare + 2 * (0.8e-3 + 0.04 * bare)
        rise = max(10, min(40, 0.5 * (bound - self.air)))
        ts, mean = self.air + rise, self.air + rise / 2
        nu, k = 15.89e-6 * (mean / 300) ** 1.76, 26.3e-3 * (mean / 300) ** 0.85
        ra = G * rise * over**3 * 0.707 / (mean * nu * nu)
        nusselt = (0.60 + 0.387 * ra ** (1 / 6) / (1 + (0.559 / 0.707) ** (9 / 16)) ** (8 / 27)) ** 2
        h = nusselt * k / over + 0.9 * 5.670374419e-8 * (ts + self.air) * (ts**2 + self.air**2)
        self.lost = 1 / (math.log(over / bare) / (2 * math.pi * 0.2) + 1 / (math.pi * over * h))

    def gap_torque(self, speed):
        """Drag of water between rotor and bore."""
        m = self.d["motor"]
        if not m.get("wet_gap"):
            return 0.0
        s, r, length = m["wet_gap"], m["rotor_diameter"] / 2, m["rotor_length"]
        re = speed * r * s / self.nu
        laminar = 4 * math.pi * self.rho * self.nu * length * speed * (r * (r + s)) ** 2 / ((r + s) ** 2 - r**2)
        c = max(2 * re**-0.6, 1.03 * re**-0.5, 0.065 * re**-0.2) * (s / r) ** 0.3
        return max(laminar, math.pi / 2 * self.rho * speed**2 * r**4 * length * c)

    TABLE = [2.95, 3.38, 3.50, 3.58, 3.64, 3.70, 3.79, 3.88, 3.97, 4.06, 4.18]

    def open_circuit(self, charge):
        t, x = self.TABLE, charge * 10
        i = min(int(x), 9)
        u = x - i
        step = [t[j + 1] - t[j] for j in range(10)]

        def slope(j):
            if j == 0:
                return step[0]
            if j == 10:
                return step[9]
            return 2 * step[j - 1] * step[j] / (step[j - 1] + step[j])

        h00, h10 = 2 * u**3 - 3 * u**2 + 1, u**3 - 2 * u**2 + u
        return h00 * t[i] + h10 * slope(i) + (1 - h00) * t[i + 1] + (u**3 - u**2) * slope(i + 1)

    def ingested(self, q, v):
        """Momentum and energy coefficient of the stream through a rectangle."""
        if v == 0:
            return 1.0, 1.0
        x = self.d["intake"]["hull_ahead"]
        delta = 0.37 * x * (v * x / self.nu) ** -0.2
        inside = self.width * v * delta * 7 / 8  # flow within the layer
        if q >= inside:
            h = q / (self.width * v) + delta / 8
            return (h - 2 * delta / 9) / (h - delta / 8), (h - 3 * delta / 10) / (h - delta / 8)
        s = (q / inside) ** (7 / 8)
        return 8 / 9 * s ** (1 / 7), 8 / 10 * s ** (2 / 7)

    def demand(self, vj, v, height):
        """Flow, head, NPSH and momentum coefficient that a jet velocity asks for."""
        it, nz, im = self.d["intake"], self.d["nozzle"], self.d["impeller"]
        q = self.a7 * vj * (1 + self.coolant)
        cm, ce2 = self.ingested(q, v)
        loss = it["throat_loss"] * (q / self.a2 - cm * v) ** 2 + it["ingested_loss"] * (cm * v) ** 2 + it["duct_loss"] * (q / self.a3) ** 2
        lift = max(height + nz["height_offset"], 0)
        head = ((1 + nz["loss"]) * vj**2 + loss - ce2 * v**2) / (2 * G) + lift
        npsh = (self.w["air_pressure"] - self.w["vapour_pressure"]) / (self.rho * G) - height - im["diameter"] / 2 + (ce2 * v**2 - loss) / (2 * G)
        return q, head, npsh, cm

    def place(self):
        im, duty = self.d["impeller"], self.d["duty"]
        v, z = duty["speed"], self.d["shaft"]["height"]
        vj = brentq(lambda x: self.thrust(x, v, z) - duty["thrust"], 0.01, 200, xtol=1e-13, rtol=8.9e-16)
        q, head, _, _ = self.demand(vj, v, z)
        f = 1 / im["design_flow_ratio"]
        h0, b = im["shutoff_ratio"], im["curve_exponent"]
        omega = math.sqrt(G * head / (im["head_coefficient"] * (h0 - (h0 - 1) * f**b))) / im["diameter"]
        self.phi_d = im["design_flow_ratio"] * q / (omega * im["diameter"] ** 3)
        self.eta = im["efficiency"] * im["installed_factor"]

    def thrust(self, vj, v, height):
        q, _, _, cm = self.demand(vj, v, height)
        return self.rho * (self.a7 * vj * vj * math.cos(self.d["nozzle"]["angle"]) - q * cm * v)

    def pump(self, q, omega, npsh):
        im = self.d["impeller"]
        x = q / (omega * im["diameter"] ** 3) / self.phi_d
        h0, b, psi = im["shutoff_ratio"], im["curve_exponent"], im["head_coefficient"]
        head = psi * (h0 - (h0 - 1) * x**b) * (omega * im["diameter"]) ** 2 / G
        s = omega * math.sqrt(q) / (G * npsh) ** 0.75 if npsh > 0 else math.inf
        head *= math.exp(-0.03 * (s / im["suction_specific_speed_3"]) ** im["cavitation_exponent"])
        c = (h0 - 1) * b - 1
        power = psi * self.phi_d / self.eta * (1 + c * (1 - x)) * self.rho * omega**3 * im["diameter"] ** 5
        return head, power, s

    def run(self, omega, v, height):
        def miss(vj):
            q, head, npsh, _ = self.demand(vj, v, height)
            return self.pump(q, omega, npsh)[0] - head

        return brentq(miss, 1e-6, 2 * omega * self.d["impeller"]["diameter"] + 3 * v + 1, xtol=1e-14, rtol=8.9e-16)

    def electric(self, torque, speed, vj):
        d, m, c, b, co = self.d, self.d["motor"], self.d["controller"], self.d["battery"], self.d["cooling"]
        linear, square = self.idle_terms
        gap = self.gap_torque(speed)
        idle = linear * speed + square * speed**2 + gap * speed
        r20 = m["winding_resistance"] * m.get("ac_factor", 1)
        alpha = 0.00393 / (1 + 0.00393 * (m["resistance_temperature"] - 293.15))
        carried = self.a7 * vj * self.coolant * self.rho * self.w["specific_heat"] + co["still_loss"]
        rise = m["winding_to_jacket"] + co["jacket_to_coolant"] + 0.5 / carried
        softening = m.get("magnet_coefficient", 0)
        # dead time: three legs, the mean of a rectified sine, two edges a cycle
        dead = 3 * c.get("diode_voltage", 0.9) * 2 / math.pi * 2 * c.get("dead_time", 0) * c["switching_frequency"]
        heat, fixed_extra, wiring = 0.0, 0.0, b["wiring_resistance"]
        if self.cable_cold:
            wiring = b.get("connector_resistance", 0) + self.cable_cold
        tw = bridge = self.d["water"]["temperature"]
        for _ in range(200):
            coolant = self.d["water"]["temperature"] + heat / carried
            magnet = coolant + m["magnet_rise_share"] * (tw - coolant)
            k = self.k * (1 + softening * (magnet - m.get("constant_temperature", 293.15)))
            i = (torque + linear + square * speed + gap) / k
            ref = i * i * r20
            tw = (coolant + rise * (idle + ref * (1 - alpha * m["resistance_temperature"]))) / (1 - rise * ref * alpha)
            copper = ref * (1 + alpha * (tw - m["resistance_temperature"]))
            electric = torque * speed + idle + copper
            peak = 2 / math.sqrt(3) * i
            warmer = c.get("on_resistance_coefficient", 0) * (bridge - c.get("on_resistance_temperature", 298.15))
            conduction = 2 * c["on_resistance"] * (1 + warmer) * i * i
            per_volt = 6 * c["switching_frequency"] * peak / math.pi * c["switching_time"] / 2
            fixed = electric + conduction + c["standby_power"] + dead * peak + fixed_extra
            r = self.rb + wiring
            u = self.voc - r * per_volt
            if u * u < 4 * r * fixed:
                return {"battery_power": 1e9}  # beyond the battery
            volts = (u + math.sqrt(u * u - 4 * r * fixed)) / 2
            amps = (fixed + per_volt * volts) / volts
            before = (heat, wiring, tw, fixed_extra, bridge)
            heat = fixed - electric + per_volt * volts
            # ripple of the capacitors: bus current's mean square less its mean, over a sixth of a turn
            along = electric / i  # volts of the equivalent direct-current motor
            across = 2 * m.get("pole_pairs", 0) * m.get("phase_inductance", 0) * speed * i
            reach = math.hypot(along, across)
            index, cos2 = 2 / math.sqrt(3) * reach / volts, (along / reach) ** 2
            ripple2 = 2 / 3 * i * i * 2 * index * (math.sqrt(3) / (4 * math.pi) + cos2 * (math.sqrt(3) / math.pi - 9 * index / 16))
            fixed_extra = ripple2 * c.get("capacitor_resistance", 0)
            if self.cable_cold:
                gain = amps * amps * self.metre / self.lost
                hot = (self.air + gain * (1 - 0.00393 * 293.15)) / (1 - 0.00393 * gain)
                wiring = b.get("connector_resistance", 0) + self.cable_cold * (1 + 0.00393 * (hot - 293.15))
            bridge = self.d["water"]["temperature"] + heat * (c["bridge_to_plate"] + co["plate_to_coolant"] + 0.5 / carried)
            after = (heat, wiring, tw, fixed_extra, bridge)
            if all(abs(x - y) <= 1e-14 * abs(x) for x, y in zip(after, before)):
                break
        return {"battery_power": amps * (volts + amps * wiring), "winding": tw, "controller_power": electric, "ripple": math.sqrt(ripple2), "modulation": reach / volts}

    def at(self, omega, v, height):
        vj = self.run(omega, v, height)
        q, head, npsh, _ = self.demand(vj, v, height)
        _, power, s = self.pump(q, omega, npsh)
        sh = self.d["shaft"]
        torque = power / omega + sh["seal_torque"]
        out = {"rotor_speed": omega, "flow": q, "head": head, "thrust": self.thrust(vj, v, height), "shaft_power": torque * omega, "suction_specific_speed": s}
        return out, torque, vj

    def solve(self, c):
        height = self.d["stand"]["shaft_height"] if c["on_stand"] else self.d["shaft"]["height"]

        def figures(omega):
            out, torque, vj = self.at(omega, c["speed"], height)
            if c["demand"] == "battery power":
                out.update(self.electric(torque, omega, vj))
            return out

        key = c["demand"].replace(" ", "_")
        omega = brentq(lambda x: figures(x)[key] - c["amount"], 30, 700, xtol=1e-12, rtol=8.9e-16)
        out, torque, vj = self.at(omega, c["speed"], height)
        out.update(self.electric(torque, omega, vj))
        out["static_efficiency"] = out["thrust"] ** 1.5 / (2 * math.sqrt(self.rho * self.a6) * out["battery_power"])
        return out


def main():
    data = json.load(sys.stdin)
    drive = Drive(data["drive"], data["water"])
    answers = [drive.solve(c) for c in data["conditions"]]
    best = math.inf
    for _ in range(5):
        start = time.perf_counter()
        for c in data["conditions"]:
            drive.solve(c)
        best = min(best, (time.perf_counter() - start) / len(data["conditions"]))
    json.dump({"answers": answers, "seconds_per_state": best}, sys.stdout)


if __name__ == "__main__":
    main()
