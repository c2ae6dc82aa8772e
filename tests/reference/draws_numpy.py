#!/usr/bin/env python3
"""Works the draws of a ledger out with numpy, checks them against ours, and says how long numpy takes for it.

    python3 tests/reference/draws_numpy.py [tape.json]

The tape is what `WHEELSHEET_EXPORT=1 cargo bench --bench pipeline` prints; without a file, cargo is asked for it here.
Needs numpy 2. One core does the work: no step is a product of matrices, so no other thread is ever asked. The variables of
OPENBLAS are left as they are.
"""

import json
import math
import os
import pathlib
import subprocess
import sys
import time

import numpy as np

DRAWS = 10_000
BANDS = [999, 4_999, 8_999]
ROUNDS = 30

FUNCTIONS = {
    "Add": np.add, "Sub": np.subtract, "Mul": np.multiply, "Div": np.divide, "Square": np.square, "Sqrt": np.sqrt,
    "Tan": np.tan, "Atan": np.arctan, "Sin": np.sin, "Cos": np.cos, "Power": np.power,
}
FOLDS = {"Sum": np.add, "Least": np.minimum, "Greatest": np.maximum}


def nominal(steps):
    values = []
    for name, *rest in steps:
        if name in ("entry", "constant"):
            values.append(rest[0])
        else:
            values.append(applied(name, [values[k] for k in rest[0]]))
    return values


def applied(name, operands):
    if name in FUNCTIONS:
        return FUNCTIONS[name](*operands)
    result = operands[0]
    for operand in operands[1:]:
        result = FOLDS[name](result, operand)
    return result


def drawn(stream, value, uncertainty, shape):
    if uncertainty == 0:
        return value
    if shape == "normal":
        return stream.normal(value, uncertainty, DRAWS)
    if shape == "log-normal":
        sigma = math.sqrt(math.log((1 + math.sqrt(1 + 4 * (uncertainty / value) ** 2)) / 2))
        return value * np.exp(stream.normal(0, sigma, DRAWS))
    if shape == "rectangular":
        return value + uncertainty * stream.uniform(-math.sqrt(3), math.sqrt(3), DRAWS)
    return value + uncertainty * math.sqrt(2) * np.sin(math.pi * stream.uniform(-0.5, 0.5, DRAWS))


def columns(steps, wanted, stream):
    """The columns wanted; what has no spread stays one number, which is the kindest way to numpy."""
    values = []
    for name, *rest in steps:
        if name == "entry":
            values.append(drawn(stream, *rest))
        elif name == "constant":
            values.append(rest[0])
        else:
            values.append(applied(name, [values[k] for k in rest[0]]))
    return [values[step] for step in wanted]


def plain_bands(column):
    """As one writes it."""
    return np.quantile(column, [0.1, 0.5, 0.9], method="inverted_cdf") if np.ndim(column) else [column] * 3


def quick_bands(column):
    """As quick as numpy can be made: its partition is vectorised for one rank at a time only."""
    if not np.ndim(column):
        return [column] * 3
    low, middle, high = BANDS
    column = np.partition(column, middle)
    below, above = column[:middle], column[middle + 1:]
    high -= middle + 1
    return [np.partition(below, low)[low], column[middle], np.partition(above, high)[high]]


def by_cargo():
    root = pathlib.Path(__file__).parents[2]
    command = ["cargo", "bench", "--quiet", "--bench", "pipeline"]
    return subprocess.run(command, cwd=root, env=os.environ | {"WHEELSHEET_EXPORT": "1"}, check=True, stdout=subprocess.PIPE).stdout


def main():
    tape = json.loads(pathlib.Path(sys.argv[1]).read_bytes() if len(sys.argv) > 1 else by_cargo())
    steps, figures = tape["steps"], tape["figures"]
    wanted = [figure["step"] for figure in figures]
    for figure, value in zip(figures, np.array(nominal(steps), dtype=float)[wanted]):
        assert math.isclose(value, figure["value"], rel_tol=1e-12, abs_tol=1e-12), figure["name"]
    stream = np.random.default_rng(1)
    times = {"draws": [], "plain bands": [], "quick bands": []}
    for _ in range(ROUNDS):
        begin = time.perf_counter()
        found = columns(steps, wanted, stream)
        times["draws"].append(time.perf_counter() - begin)
        for name, bands in (("plain bands", plain_bands), ("quick bands", quick_bands)):
            begin = time.perf_counter()
            banded = [bands(column) for column in found]
            times[name].append(time.perf_counter() - begin)
    for figure, column, ends in zip(figures, found, banded):
        # A tenth of ten thousand draws is known to about 2 % of a standard deviation.
        room = 0.1 * np.std(column) + 1e-12 * abs(figure["value"])
        assert all(abs(a - b) <= room for a, b in zip(ends, figure["bands"])), (figure["name"], ends, figure["bands"])
    best = {name: 1000 * min(seconds) for name, seconds in times.items()}
    print(f"{len(figures)} figures, {len(steps)} steps, {DRAWS} draws, best of {ROUNDS}")
    for name in ("plain bands", "quick bands"):
        print(f"draws {best['draws']:.1f} ms, {name} {best[name]:.1f} ms, together {best['draws'] + best[name]:.1f} ms")


if __name__ == "__main__":
    main()
