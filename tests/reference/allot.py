#!/usr/bin/env python3
"""Recomputes allot-solver.csv: the least largest step and the fewest squares of skeins in pieces, by a solver that is not ours.

Needs ortools 9.15.6755. Without arguments it compares and fails on a difference; with --write it writes the table anew. Cases
are drawn from seeds; lengths are whole metres and weights whole thousandths of the mean, so that the solver's whole numbers are
exact. Its work is bounded by its own deterministic measure of time, and a case that it does not prove optimal is a fault.
"""

import itertools
import math
import random
import sys

from ortools.sat.python import cp_model

import tables

# Places as they are worked: metres, with b where it is a band.
PULLOVER = "60b 360 360 240 240 60b"
JACKET = "480 240 240 60b 180 180"
VEST = "40b 360 360 40b"
MITTENS = "30b 120 30b 120"
SHAWL = "720"
# How many skeins, of which lengths, how they vary, how many classes, places, and which of them lie beside each other.
CASES = [
    (8, "uneven", "normal", 1, VEST, "1-2"), (8, "uneven", "outlier", 1, VEST, "1-2"), (8, "even", "normal", 1, VEST, "1-2"),
    (8, "uneven", "drift", 1, PULLOVER, "1-2 3-4"), (8, "uneven", "two", 1, PULLOVER, "1-2 1-3 2-4 3-4"),
    (8, "even", "normal", 1, PULLOVER, "1-2 3-4"), (8, "uneven", "normal", 1, JACKET, "0-1 0-2 1-2"),
    (8, "uneven", "outlier", 2, JACKET, "1-2 4-5"), (8, "even", "two", 1, JACKET, "0-1 0-2 1-2 4-5"),
    (8, "short", "normal", 1, MITTENS, "1-3"), (8, "short", "drift", 1, MITTENS, "1-3"),
    (9, "uneven", "normal", 1, SHAWL, ""), (9, "uneven", "outlier", 1, SHAWL, ""), (9, "uneven", "drift", 2, SHAWL, ""),
    (9, "uneven", "normal", 1, VEST, "1-2"), (9, "uneven", "outlier", 1, PULLOVER, "1-2 3-4"),
    (9, "even", "drift", 1, PULLOVER, "1-2 1-3 2-4 3-4"), (9, "even", "normal", 1, JACKET, "1-2 4-5"),
    (9, "uneven", "normal", 3, JACKET, "0-1 0-2 1-2 4-5"), (9, "uneven", "two", 1, JACKET, ""),
    (10, "uneven", "normal", 1, SHAWL, ""), (10, "even", "normal", 1, SHAWL, ""), (10, "short", "outlier", 1, MITTENS, "1-3"),
    (10, "uneven", "drift", 2, PULLOVER, "1-2 3-4"), (10, "even", "normal", 1, VEST, "1-2"),
    (10, "uneven", "normal", 1, VEST, ""), (10, "uneven", "outlier", 2, JACKET, "1-2 4-5"), (10, "uneven", "two", 2, PULLOVER, "3-4"),
    (10, "short", "drift", 1, PULLOVER, "1-2 3-4"), (10, "uneven", "outlier", 1, PULLOVER, "1-2 1-3 2-4 3-4"),
    (12, "uneven", "normal", 1, SHAWL, ""), (12, "even", "outlier", 1, VEST, "1-2"), (12, "even", "normal", 3, PULLOVER, "1-2 3-4"),
    (12, "uneven", "normal", 1, PULLOVER, "3-4"),
]
SEED = 20_260_302
# In the deterministic seconds of the solver, a bound that no case comes to.
MOST_WORK = 200.0


def thousandths(stream, how, skeins):
    """Weights over the mean in thousandths, as they come from a wheel."""
    if how == "normal":
        return [round(stream.gauss(1000, 50)) for _ in range(skeins)]
    if how == "drift":
        return [940 + 120 * at // skeins + round(stream.gauss(0, 8)) for at in range(skeins)]
    if how == "two":
        return [round(stream.gauss(960 if stream.random() < 0.6 else 1060, 8)) for _ in range(skeins)]
    return [round(stream.gauss(1000, 20)) + (180 if at == skeins // 2 else 0) for at in range(skeins)]


def metres(stream, which, skeins, needed):
    """Lengths, together more than is needed."""
    each = -(-needed * 108 // (100 * skeins))
    if which == "even":
        return [60 * -(-each // 60)] * skeins
    spread = each // 3 if which == "short" else each // 8
    lengths = [each + stream.randint(-spread, spread) for _ in range(skeins)]
    lengths[-1] += max(0, needed - sum(lengths))
    return lengths


def case(number):
    skeins, which, how, classes, places, beside = CASES[number]
    stream = random.Random(SEED + number)
    places = [(int(place.removesuffix("b")), place.endswith("b")) for place in places.split()]
    lengths = metres(stream, which, skeins, sum(need for need, _ in places))
    offs = thousandths(stream, how, skeins)
    beside = [tuple(map(int, pair.split("-"))) for pair in beside.split()]
    return places, lengths, offs, [at * classes // skeins for at in range(skeins)], beside


class Model:
    """Skeins at positions, and the steps between them. Where a step lies depends on where a skein ends: within a place or not."""

    def __init__(self, places, lengths, offs, classes, beside):
        self.model = cp_model.CpModel()
        self.lengths, self.offs, self.most = lengths, offs, max(offs)
        self.positions = range(len(lengths))
        self.takes = [[self.model.new_bool_var("") for _ in self.positions] for _ in lengths]
        for at in self.positions:
            self.model.add_exactly_one(self.takes[at])
            self.model.add_exactly_one(takes[at] for takes in self.takes)
            for skein in self.positions:
                if classes[skein] != classes[at]:
                    self.model.add(self.takes[skein][at] == 0)
        self.off = [self.at(at, offs) for at in self.positions]
        self.begin = [sum(self.at(before, lengths) for before in range(at)) for at in range(len(lengths) + 1)]
        ends = list(itertools.accumulate(need for need, _ in places))
        self.spans = [(end - need, end) for end, (need, _) in zip(ends, places)]
        shown = [span for span, (_, is_band) in zip(self.spans, places) if not is_band]
        # Means are whole in units of this part of a thousandth.
        self.unit = math.lcm(*(places[place][0] for pair in beside for place in pair))
        self.steps = [self.within(at, shown) for at in self.positions[1:]] + self.between(beside)

    def at(self, position, values):
        return sum(value * takes[position] for value, takes in zip(values, self.takes))

    def distance(self, difference, most):
        distance = self.model.new_int_var(0, most, "")
        self.model.add_abs_equality(distance, difference)
        return distance

    def within(self, at, shown):
        """The step from the position before, nothing where that one ends at the end of a place or in a band."""
        inside = []
        for begin, end in shown:
            is_after, is_before, is_inside = (self.model.new_bool_var("") for _ in range(3))
            self.model.add(self.begin[at] > begin).only_enforce_if(is_after)
            self.model.add(self.begin[at] <= begin).only_enforce_if(~is_after)
            self.model.add(self.begin[at] < end).only_enforce_if(is_before)
            self.model.add(self.begin[at] >= end).only_enforce_if(~is_before)
            self.model.add_min_equality(is_inside, [is_after, is_before])
            inside.append(is_inside)
        spread = self.most - min(self.offs)
        distance = self.distance(self.off[at] - self.off[at - 1], spread)
        step = self.model.new_int_var(0, spread, "")
        self.model.add(step == distance).only_enforce_if(sum_is_one(self.model, inside))
        self.model.add(step == 0).only_enforce_if([~is_inside for is_inside in inside])
        return step * self.unit, spread * self.unit

    def weight_until(self, end):
        """The weight of the yarn up to so many metres."""
        if end == 0:
            return 0
        rest, off = self.model.new_int_var(0, max(self.lengths), ""), self.model.new_int_var(0, self.most, "")
        before = self.model.new_int_var(0, sum(self.lengths) * self.most, "")
        is_at = [self.model.new_bool_var("") for _ in self.positions]
        self.model.add_exactly_one(is_at)
        weights = [length * of for length, of in zip(self.lengths, self.offs)]
        for at in self.positions:
            self.model.add(self.begin[at] < end).only_enforce_if(is_at[at])
            self.model.add(self.begin[at + 1] >= end).only_enforce_if(is_at[at])
            self.model.add(rest == end - self.begin[at]).only_enforce_if(is_at[at])
            self.model.add(off == self.off[at]).only_enforce_if(is_at[at])
            weight = sum(self.at(position, weights) for position in range(at))
            self.model.add(before == weight).only_enforce_if(is_at[at])
        product = self.model.new_int_var(0, max(self.lengths) * self.most, "")
        self.model.add_multiplication_equality(product, [rest, off])
        return before + product

    def between(self, beside):
        means = {}
        for place in sorted({place for pair in beside for place in pair}):
            begin, end = self.spans[place]
            means[place] = (self.weight_until(end) - self.weight_until(begin)) * (self.unit // (end - begin))
        most = (self.most - min(self.offs)) * self.unit
        return [(self.distance(means[a] - means[b], most), most) for a, b in beside]

    def least(self, aim, what):
        self.model.minimize(aim)
        solver = cp_model.CpSolver()
        solver.parameters.random_seed = 1
        solver.parameters.num_workers = 2
        solver.parameters.max_deterministic_time = MOST_WORK
        status = solver.solve(self.model)
        if status != cp_model.OPTIMAL:
            raise SystemExit(f"not proven: {what} of {self.lengths} {self.offs}: {solver.status_name(status)}")
        return round(solver.objective_value)

    def least_step_and_squares(self):
        largest = self.model.new_int_var(0, max(most for _, most in self.steps), "")
        for step, _ in self.steps:
            self.model.add(step <= largest)
        least = self.least(largest, "step")
        self.model.add(largest <= least)
        squares = []
        for step, most in self.steps:
            root, square = self.model.new_int_var(0, min(least, most), ""), self.model.new_int_var(0, least * least, "")
            self.model.add(root == step)
            self.model.add_multiplication_equality(square, [root, root])
            squares.append(square)
        return least / self.unit, self.least(sum(squares), "squares") / self.unit**2


def sum_is_one(model, literals):
    """Whether one of literals is true, of which no two can be."""
    is_one = model.new_bool_var("")
    model.add(sum(literals) == is_one)
    return is_one


def spaced(values):
    return " ".join(map(str, values))


def lines():
    table = ["case,places,beside,lengths,offs,classes,step,squares"]
    for number, (_, _, _, _, places, beside) in enumerate(CASES):
        drawn = case(number)
        _, lengths, offs, classes, _ = drawn
        step, squares = Model(*drawn).least_step_and_squares()
        given = ",".join([places, beside, spaced(lengths), spaced(offs), spaced(classes)])
        table.append(f"{number},{given},{step:.9f},{squares:.9f}")
    return table


REMARKS = [
    "The least largest step, and under it the fewest squares, of skeins in places: OR-tools 9.15.6755, CP-SAT, proven optimal.",
    "Places and lengths in metres, b for a band; weights and steps in thousandths of the mean, squares in their squares.",
]

if __name__ == "__main__":
    sys.exit(0 if tables.hold("allot.py", {"allot-solver.csv": (lines, REMARKS)}) else 1)
