#!/usr/bin/env python3
"""Recomputes the two answer columns of units-conversions.csv and units-twist-factors.csv.

Needs GNU units 2.22 (the program `units`) and pint 0.25.3. Without arguments it compares and fails on a difference;
with --write it writes the columns anew. The questions (number, unit, into) are kept as they stand.
"""

import csv
import io
import math
import pathlib
import subprocess
import sys

import pint

HERE = pathlib.Path(__file__).parent
REGISTRY = pint.UnitRegistry()

# Symbol: what GNU units calls it, what pint calls it, whether it is a weight per length of yarn.
SAME = {
    "g": "g", "kg": "kg", "mg": "mg", "oz": "oz", "lb": "pound", "gr": "grain",
    "m": "m", "cm": "cm", "mm": "mm", "km": "km", "in": "inch", "ft": "foot", "yd": "yard",
    "m²": "m^2", "cm²": "cm^2", "mm²": "mm^2", "µm²": "micrometer^2", "in²": "inch^2", "ft²": "foot^2", "yd²": "yard^2",
    "micron": "micrometer", "µm": "micrometer",
    "g/cm³": "g/cm^3", "kg/m³": "kg/m^3", "g/m³": "g/m^3",
    "tex": "tex", "dtex": "0.1 tex", "denier": "denier", "mg/km": "mg/km", "g/m": "g/m", "g/100 m": "g/(100 m)", "lb/yd": "pound/yard",
    "oz/100 yd": "oz/(100 yard)", "jute count": "pound/(14400 yard)",
    "m/100 g": "m/(100 g)", "m/50 g": "m/(50 g)", "m/kg": "m/kg", "m/g": "m/g",
    "yd/lb": "yard/pound", "yd/oz": "yard/oz", "yd/4 oz": "yard/(4 oz)", "yd/100 g": "yard/(100 g)", "yd/50 g": "yard/(50 g)",
    "Alloa count": "240 yard/pound", "Galashiels cut": "200 yard/pound", "Leicester count": "176 yard/pound",
    "Yorkshire skein": "256 yard/pound", "French cotton count": "1000 m/(500 g)", "metric spun silk count": "km/kg",
    "tpi": "1/inch", "turns/cm": "1/cm", "turns/m": "1/m", "turns/10 cm": "1/(10 cm)", "turns/4 in": "1/(4 inch)",
    "wpi": "1/inch", "wraps/cm": "1/cm", "wraps/m": "1/m", "wraps/3 cm": "1/(3 cm)",
    "st/10 cm": "1/(10 cm)", "st/4 in": "1/(4 inch)", "st/in": "1/inch", "st/cm": "1/cm", "st/m": "1/m",
    "ends/cm": "1/cm", "ends/10 cm": "1/(10 cm)", "ends/in": "1/inch", "ends/m": "1/m",
    "picks/cm": "1/cm", "picks/10 cm": "1/(10 cm)", "picks/in": "1/inch", "picks/m": "1/m",
    "rows/10 cm": "1/(10 cm)", "rows/4 in": "1/(4 inch)", "rows/in": "1/inch", "rows/cm": "1/cm", "rows/m": "1/m",
    "m/m²": "m/m^2", "cm/cm²": "cm/cm^2", "m/100 cm²": "m/(100 cm^2)", "yd/yd²": "yard/yard^2", "yd/in²": "yard/inch^2",
    "in/in²": "inch/inch^2",
    "s": "second", "min": "minute", "h": "hour", "days": "day", "turns/min": "1/minute", "turns/s": "1/second",
    "rad": "radian", "°": "degree",
}
DIFFERENT = {
    "Nm": ("metricyarncount", "number_meter"),
    "worsted count": ("worstedyarncount", "560 yard/pound"),
    "cotton count": ("cottonyarncount", "number_english"),
    "spun silk count": ("cottonyarncount", "number_english"),
    "linen lea": ("linenyarncount", "300 yard/pound"),
    "woollen run": ("woolyarnrun", "1600 yard/pound"),
    "woollen cut": ("yarncut", "300 yard/pound"),
}
PER_LENGTH = {"tex", "dtex", "denier", "mg/km", "g/m", "g/100 m", "lb/yd", "oz/100 yd", "jute count"}
YARN = PER_LENGTH | {s for s in SAME if s.startswith(("m/", "yd/")) and "²" not in s} | set(DIFFERENT) | {
    "Alloa count", "Galashiels cut", "Leicester count", "Yorkshire skein", "French cotton count", "metric spun silk count"}
# Twist factors are asked about squared, because GNU units takes no root of a tex.
TWIST_FACTORS = {
    "turns/m·√tex": "tex/m^2", "turns/cm·√tex": "tex/cm^2", "turns/m/√Nm": "1/(m^2 * (km/kg))",
    "tpi/√worsted": "1/(inch^2 * (560 yard/pound))", "tpi/√cotton": "1/(inch^2 * (840 yard/pound))",
    "tpi/√run": "1/(inch^2 * (1600 yard/pound))", "tpi/√cut": "1/(inch^2 * (300 yard/pound))",
    "tpi/√(yd/lb)": "1/(inch^2 * (yard/pound))",
}


def names(symbol):
    return DIFFERENT.get(symbol) or (SAME[symbol], SAME[symbol])


def by_gnu_units(have, want):
    command = ["units", "-o", "%.17g", "-t", have, want]
    return float(subprocess.run(command, check=True, capture_output=True, text=True).stdout)


def by_pint(have, want):
    # The expressions hold juxtapositions such as "560 yard/pound"; pint reads those as products.
    return (REGISTRY.Quantity(have) / REGISTRY.Quantity(want)).to_base_units().m_as("dimensionless")


def conversion(row):
    number, unit, into = row["number"], row["unit"], row["into"]
    turned = unit in YARN and (unit in PER_LENGTH) != (into in PER_LENGTH)
    answers = []
    for ask, have, want in zip((by_gnu_units, by_pint), names(unit), names(into)):
        whole = f"{number} * ({have})"
        answers.append(ask(f"1/({whole})" if turned else whole, f"({want})"))
    return answers


def twist_factor(row):
    have, want = TWIST_FACTORS[row["unit"]], TWIST_FACTORS[row["into"]]
    return [float(row["number"]) * math.sqrt(ask(f"({have})", f"({want})")) for ask in (by_gnu_units, by_pint)]


def recomputed(path, answer):
    lines = path.read_text(encoding="utf-8").splitlines()
    head = [line for line in lines if line.startswith("#")]
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    out = io.StringIO()
    writer = csv.DictWriter(out, ["number", "unit", "into", "gnu-units-2.22", "pint-0.25.3"], lineterminator="\n")
    writer.writeheader()
    for row in rows:
        row["gnu-units-2.22"], row["pint-0.25.3"] = (f"{value:.10g}" for value in answer(row))
        writer.writerow(row)
    return "\n".join(head) + "\n" + out.getvalue()


def main():
    is_wrong = False
    for name, answer in (("units-conversions.csv", conversion), ("units-twist-factors.csv", twist_factor)):
        path = HERE / name
        text = recomputed(path, answer)
        if "--write" in sys.argv:
            path.write_text(text, encoding="utf-8")
        elif text != path.read_text(encoding="utf-8"):
            print(f"{name} is not what GNU units and pint answer", file=sys.stderr)
            is_wrong = True
    sys.exit(is_wrong)


if __name__ == "__main__":
    main()
