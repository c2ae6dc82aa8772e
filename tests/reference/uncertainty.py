#!/usr/bin/env python3
"""Recomputes uncertainty.csv, normal-quantiles.csv and student-t.csv with packages that are not ours.

Needs uncertainties 3.2.3, GTC 1.5.1, numpy 2.4.6 and scipy 1.17.1. Without arguments it compares, and fails on a difference;
with --write it writes the three tables anew.

The examples are those of JCGM 100:2008 (GUM), annexes H.1 (end gauge) and H.2 (resistance, reactance and impedance, whose
inputs are correlated), and of JCGM 101:2008, 9.2 (sum of four).
"""

import math
import sys

import GTC
import numpy as np
import uncertainties
from scipy import stats
from uncertainties import umath

import tables

DRAWS = 4_000_000

# GUM, table H.2: five simultaneous readings of V / V, I / mA and phi / rad.
READINGS = np.array([
    [5.007, 19.663, 1.0456],
    [4.994, 19.639, 1.0438],
    [5.005, 19.640, 1.0468],
    [4.990, 19.685, 1.0428],
    [4.999, 19.678, 1.0433],
])
# GUM, annex H.1, in nanometres and kelvins: value, standard uncertainty, and how it is spread.
GAUGE = {
    "ls": (50_000_623, 25, "normal"),
    "d0": (215, 5.8, "normal"),
    "d1": (0, 3.9, "normal"),
    "d2": (0, 6.7, "normal"),
    "alpha": (11.5e-6, 2e-6 / math.sqrt(3), "rectangular"),
    "theta": (-0.1, 0.2, "normal"),
    "delta": (0, 0.5 / math.sqrt(2), "arcsine"),
    "dalpha": (0, 1e-6 / math.sqrt(3), "rectangular"),
    "dtheta": (0, 0.05 / math.sqrt(3), "rectangular"),
}


def gauge(ls, d0, d1, d2, alpha, theta, delta, dalpha, dtheta):
    return ls + (d0 + d1 + d2) - ls * (dalpha * (theta + delta) + alpha * dtheta)


def impedance(v, i, phi, cos, sin):
    i = i / 1000
    return {"R": v * cos(phi) / i, "X": v * sin(phi) / i, "Z": v / i}


def of_pairs(results, correlation):
    names = list(results)
    pairs = [(a, b) for k, a in enumerate(names) for b in names[k + 1:]]
    return {f"r({a},{b})": correlation(results[a], results[b]) for a, b in pairs}


def by_uncertainties():
    covariance = np.cov(READINGS.T) / len(READINGS)
    inputs = uncertainties.correlated_values(READINGS.mean(axis=0), covariance)
    results = impedance(*inputs, umath.cos, umath.sin)
    for name, result in results.items():
        yield "H.2", name, result.nominal_value
        yield "H.2", f"u({name})", result.std_dev
    for pair, r in of_pairs(results, lambda a, b: uncertainties.correlation_matrix([a, b])[0, 1]).items():
        yield "H.2", pair, r
    length = gauge(**{name: uncertainties.ufloat(value, u) for name, (value, u, _) in GAUGE.items()})
    yield "H.1", "l", length.nominal_value
    yield "H.1", "u(l)", length.std_dev
    total = sum(uncertainties.ufloat(0, 1) for _ in range(4))
    yield "9.2", "u(sum)", total.std_dev


def by_gtc():
    inputs = GTC.type_a.multi_estimate_real(READINGS.T.tolist())
    results = impedance(*inputs, GTC.cos, GTC.sin)
    for name, result in results.items():
        yield "H.2", name, GTC.value(result)
        yield "H.2", f"u({name})", GTC.uncertainty(result)
    for pair, r in of_pairs(results, GTC.get_correlation).items():
        yield "H.2", pair, r
    length = gauge(**{name: GTC.ureal(value, u) for name, (value, u, _) in GAUGE.items()})
    yield "H.1", "l", GTC.value(length)
    yield "H.1", "u(l)", GTC.uncertainty(length)
    total = sum(GTC.ureal(0, 1) for _ in range(4))
    yield "9.2", "u(sum)", GTC.uncertainty(total)


def drawn(stream, value, u, shape):
    if shape == "normal":
        return stream.normal(value, u, DRAWS)
    if shape == "rectangular":
        return stream.uniform(value - u * math.sqrt(3), value + u * math.sqrt(3), DRAWS)
    return value + u * math.sqrt(2) * np.sin(stream.uniform(-math.pi / 2, math.pi / 2, DRAWS))


def of_draws(example, name, column):
    yield example, f"u({name})", column.std()
    low, high = np.quantile(column, [0.025, 0.975])
    yield example, f"low({name})", low
    yield example, f"high({name})", high


def by_numpy():
    stream = np.random.default_rng(20_251_101)
    covariance = np.cov(READINGS.T) / len(READINGS)
    inputs = stream.multivariate_normal(READINGS.mean(axis=0), covariance, DRAWS).T
    results = impedance(*inputs, np.cos, np.sin)
    for name, column in results.items():
        yield from of_draws("H.2", name, column)
    for pair, r in of_pairs(results, lambda a, b: np.corrcoef(a, b)[0, 1]).items():
        yield "H.2", pair, r
    yield from of_draws("H.1", "l", gauge(**{name: drawn(stream, *entry) for name, entry in GAUGE.items()}))
    for shape in ("normal", "rectangular"):
        total = sum(drawn(stream, 0, 1, shape) for _ in range(4))
        yield from of_draws("9.2", f"{shape} sum", total)


def examples():
    lines = ["example,quantity,package,value"]
    for package, results in (("uncertainties", by_uncertainties), ("GTC", by_gtc), ("numpy", by_numpy)):
        lines += [f'{example},"{quantity}",{package},{value:.10g}' for example, quantity, value in results()]
    return lines


def normal_quantiles():
    probabilities = [1e-300, 1e-100, 1e-30, 1e-16, 1e-10, 1e-6, 5e-5, 1e-3, 0.01, 0.02424, 0.02426, 0.025, 0.05, 0.1, 0.25,
                     0.3, 0.4, 0.49, 0.4999, 0.5, 0.5001, 0.6, 0.75, 0.9, 0.95, 0.97574, 0.97576, 0.975, 0.99, 0.999,
                     0.99995, 0.999999, 1 - 1e-10, 1 - 1e-15]
    return ["p,scipy"] + [f"{p!r},{float(stats.norm.ppf(p))!r}" for p in probabilities]


def student_quantiles():
    lines = ["p,freedom,scipy"]
    for p in (0.90, 0.95, 0.975, 0.995):
        lines += [f"{p},{df},{stats.t.ppf(p, df):.12g}" for df in (1, 2, 3, 4, 5, 9, 10, 14, 19, 29, 100)]
    return lines


TABLES = {
    "uncertainty.csv": (examples, [
        "Examples of JCGM 100:2008 (annexes H.1, H.2) and JCGM 101:2008 (9.2), by three packages that are not ours.",
        f"uncertainties and GTC: first order, ten digits. numpy: {DRAWS} draws, their standard deviation and 95 % interval.",
    ]),
    "normal-quantiles.csv": (normal_quantiles, ["Quantiles of the standard normal distribution, by scipy 1.17.1, all digits."]),
    "student-t.csv": (student_quantiles, ["Quantiles of Student's t, by scipy 1.17.1, twelve digits."]),
}


def main():
    sys.exit(not tables.hold("uncertainty.py", TABLES))


if __name__ == "__main__":
    main()
