#!/usr/bin/env python3
"""Recomputes pairing-solver.csv: the least range of the sums of sets of bobbins, by a solver that is not ours.

Needs ortools 9.15.6755. Without arguments it compares and fails on a difference; with --write it writes the table anew. Cases
are drawn from seeds; linear densities are whole tenths of a tex, so that the solver's whole numbers are exact. Its work is
bounded by its own deterministic measure of time, and a case that it does not prove optimal is a fault.
"""

import random
import sys

from ortools.sat.python import cp_model

import tables

# How many bobbins, the shape of a set, how they vary, and fixed sets beside them.
CASES = [
    (20, (2,), "normal", 0), (26, (2,), "drift", 1), (30, (2,), "two", 0), (24, (1, 1), "normal", 0), (30, (1, 1), "outliers", 1),
    (21, (3,), "normal", 0), (21, (3,), "drift", 0), (21, (3,), "outliers", 0), (21, (3,), "two", 1), (24, (3,), "normal", 0),
    (24, (3,), "drift", 1), (24, (3,), "outliers", 1), (24, (3,), "two", 0), (27, (3,), "normal", 0), (27, (3,), "fine", 0),
    (27, (3,), "drift", 0), (30, (3,), "normal", 0), (30, (3,), "drift", 0), (30, (3,), "fine", 2), (30, (3,), "drift", 1),
    (21, (1, 1, 1), "normal", 0), (21, (1, 1, 1), "outliers", 0), (21, (1, 1, 1), "drift", 1), (24, (1, 1, 1), "fine", 0),
    (24, (1, 1, 1), "two", 0), (27, (1, 1, 1), "fine", 1), (30, (1, 1, 1), "drift", 0), (30, (1, 1, 1), "fine", 0),
    (21, (2, 1), "normal", 0), (21, (2, 1), "outliers", 1), (24, (2, 1), "fine", 0), (27, (2, 1), "drift", 0),
    (27, (2, 1), "fine", 1), (30, (2, 1), "two", 0), (20, (4,), "normal", 0), (20, (4,), "outliers", 0), (24, (4,), "drift", 1),
    (20, (2, 2), "normal", 0), (20, (2, 2), "two", 1), (28, (3, 1), "normal", 0), (20, (5,), "normal", 1), (25, (5,), "fine", 0),
    (25, (5,), "drift", 0), (24, (6,), "normal", 0), (30, (6,), "two", 0), (24, (2, 2, 2), "normal", 0), (20, (10,), "normal", 0),
    (24, (12,), "fine", 1), (30, (10,), "drift", 0), (30, (15,), "outliers", 0),
    (18, (3,), "normal", 0), (18, (3,), "two", 1), (18, (3,), "outliers", 0), (18, (6,), "normal", 1), (18, (6,), "outliers", 0),
    (18, (9,), "drift", 2), (18, (1, 1, 1), "normal", 0), (18, (2, 1), "two", 0), (18, (4, 2), "normal", 1), (16, (4,), "normal", 0),
]
SEED = 20_260_301
# In the deterministic seconds of the solver: ten times what the hardest case took.
MOST_WORK = 200.0


def tenths(stream, how, bobbins):
    """Linear densities in tenths of a tex: of about 16 to 18 g for each 100 m, as they come from a wheel."""
    if how == "normal":
        return [round(stream.gauss(1700, 80)) for _ in range(bobbins)]
    if how == "fine":
        return [round(stream.gauss(300, 12)) for _ in range(bobbins)]
    if how == "drift":
        return [1600 + 10 * at + round(stream.gauss(0, 6)) for at in range(bobbins)]
    if how == "two":
        return [round(stream.gauss(1600 if stream.random() < 0.6 else 1780, 12)) for _ in range(bobbins)]
    return [round(stream.gauss(1700, 30)) + (600 if at % 11 == 4 else 0) for at in range(bobbins)]


def case(number):
    bobbins, shape, how, fixed = CASES[number]
    stream = random.Random(SEED + number)
    tex = tenths(stream, how, bobbins)
    mean = sum(tex) * sum(shape) // bobbins
    return shape, tex, [mean + round(stream.gauss(0, 0.01 * mean)) for _ in range(fixed)]


def least_range(shape, tex, fixed):
    """The least range in tenths of a tex. Bobbins of a class stand together, first class first."""
    sets = len(tex) // sum(shape)
    model = cp_model.CpModel()
    takes = [[model.new_bool_var("") for _ in range(sets)] for _ in tex]
    for of_bobbin in takes:
        model.add_exactly_one(of_bobbin)
    begin = 0
    for count in shape:
        of_class = range(begin, begin + sets * count)
        for at in range(sets):
            model.add(sum(takes[bobbin][at] for bobbin in of_class) == count)
        begin += sets * count
    # Sets are interchangeable: those of the first class begin in the order of its bobbins.
    for bobbin in range(min(sets, begin)):
        for at in range(bobbin + 1, sets):
            model.add(takes[bobbin][at] == 0)
    greatest, least = model.new_int_var(0, sum(tex) + sum(fixed), ""), model.new_int_var(0, sum(tex) + sum(fixed), "")
    for at in range(sets):
        total = sum(weight * of_bobbin[at] for weight, of_bobbin in zip(tex, takes))
        model.add(total <= greatest)
        model.add(total >= least)
    for total in fixed:
        model.add(greatest >= total)
        model.add(least <= total)
    # Each bound is redundant, and tells the solver what it would find late.
    model.add(sets * greatest >= sum(tex))
    model.add(sets * least <= sum(tex))
    model.minimize(greatest - least)
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = 1
    solver.parameters.num_workers = 2
    solver.parameters.max_deterministic_time = MOST_WORK
    status = solver.solve(model)
    if status != cp_model.OPTIMAL:
        raise SystemExit(f"not proven: {shape} {tex} {fixed}: {solver.status_name(status)}")
    return round(solver.objective_value)


def in_tex(values):
    return " ".join(f"{value / 10:.1f}" for value in values)


def lines():
    table = ["case,shape,tex,fixed,optimal_range"]
    for number in range(len(CASES)):
        shape, tex, fixed = case(number)
        optimum = least_range(shape, tex, fixed)
        table.append(f"{number},{' '.join(map(str, shape))},{in_tex(tex)},{in_tex(fixed)},{optimum / 10:.1f}")
    return table


REMARKS = [
    "The least range, in tex, of the sums of sets of bobbins: OR-tools 9.15.6755, CP-SAT, proven optimal. Bobbins of a class stand",
    "together, first class first; a shape says how many of each class make a set.",
]

if __name__ == "__main__":
    sys.exit(0 if tables.hold("pairing.py", {"pairing-solver.csv": (lines, REMARKS)}) else 1)
