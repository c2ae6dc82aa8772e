#!/usr/bin/env python3
"""Recomputes colour-spaces.csv, colour-hundred.csv and colour-blind.csv with packages that are not ours.

Needs colour-science 0.4.7, coloraide 8.13.1, numpy 2.4.6 and scipy 1.17.1. Without arguments it compares, and fails on a
difference; with --write it writes the three tables anew. The published pairs of ciede2000.csv are never written, and both
packages must give what is printed there.
"""

import csv
import math
import sys
import warnings

# colour-science says on import that it can draw nothing, which nobody asks of it.
warnings.filterwarnings("ignore", message='"Matplotlib" related API features')

import colour
import coloraide
import numpy as np
from colour.blindness import matrix_cvd_Machado2009

import tables

SEED = 20_251_102
COLOURS = 100

# The standard prints its matrix in four digits; unrounded, the whites of matrix and of CIELAB are one.
SRGB = colour.RGB_COLOURSPACES["sRGB"].copy()
SRGB.use_derived_matrix_RGB_to_XYZ = True

# Colours of colour-spaces.csv, and whether CIELAB is asked of them too.
SPACES = {"#ff0000": True, "#00ff00": True, "#0000ff": True, "#ffffff": False, "#808080": False, "#804020": True,
          "#336699": False, "#c0392b": False}


def written(light):
    """The nearest #rrggbb of linear light, cut to what a screen has."""
    signal = colour.models.eotf_inverse_sRGB(np.clip(light, 0, 1))
    return "#" + "".join(f"{int(math.floor(255 * channel + 0.5)):02x}" for channel in signal)


def cells(numbers, digits):
    # Adding nothing turns a negative zero into a plain one.
    return [f"{round(float(number), digits) + 0.0:.{digits}f}" for number in numbers]


def spaces():
    yield ["space", "hex", "first", "second", "third"]
    for code, has_lab in SPACES.items():
        yield ["OKLab", code, *cells(coloraide.Color(code).convert("oklab").coords(), 6)]
        if has_lab:
            yield ["CIELAB", code, *cells(coloraide.Color(code).convert("lab-d65").coords(), 4)]


def drawn():
    """A hundred colours as levels of 255, and how many tenths of each go into the mixture with the next one."""
    stream = np.random.default_rng(SEED)
    return stream.integers(0, 256, (COLOURS, 3)), stream.integers(1, 10, COLOURS)


def hundred():
    levels, weights = drawn()
    light = colour.models.eotf_sRGB(levels / 255)
    xyz = light @ SRGB.matrix_RGB_to_XYZ.T
    lab, oklab = colour.XYZ_to_Lab(xyz, SRGB.whitepoint), colour.XYZ_to_Oklab(xyz)
    yield ["number", "hex", "lab-l", "lab-a", "lab-b", "ok-l", "ok-a", "ok-b", "coloraide-l", "coloraide-a", "coloraide-b",
           "difference", "weight", "mixed"]
    for k in range(COLOURS):
        after, weight = (k + 1) % COLOURS, int(weights[k])
        code = written(light[k])
        other_oklab = coloraide.Color(code).convert("oklab").coords()
        yield [str(k + 1), code, *cells(lab[k], 9), *cells(oklab[k], 9), *cells(other_oklab, 9),
               *cells([colour.difference.delta_E_CIE2000(lab[k], lab[after])], 9), str(weight),
               written((weight * light[k] + (10 - weight) * light[after]) / 10)]


def blind():
    levels, _ = drawn()
    light = colour.models.eotf_sRGB(levels / 255)
    matrix = matrix_cvd_Machado2009("Deuteranomaly", 1.0)
    yield ["number", "hex", "seen"]
    for number, one in enumerate(light, 1):
        yield [str(number), written(one), written(matrix @ one)]


TABLES = {
    "colour-spaces.csv": (spaces, [
        "Colours of sRGB in OKLab (B. Ottosson, A perceptual color space for image processing, 2020) and in CIELAB under D65:",
        "coloraide 8.13.1, in six and in four decimals. Tolerance half of the last one.",
    ]),
    "colour-hundred.csv": (hundred, [
        f"A hundred random colours of sRGB (numpy 2.4.6, default_rng({SEED})); after the last comes the first.",
        "By colour-science 0.4.7: CIELAB under D65 with the unrounded matrix, OKLab by way of XYZ (the author's first matrix,",
        "which differs from his matrix for sRGB by up to 0.00012), CIEDE2000 to the next colour, and the mean of their light:",
        "so many tenths of this colour as \"weight\" says, the rest of the next. By coloraide 8.13.1: OKLab made for sRGB.",
    ]),
    "colour-blind.csv": (blind, [
        "The colours of colour-hundred.csv as an eye without green-sensitive cones takes them, by colour-science 0.4.7: the",
        "matrix for deuteranomaly of severity 1 of G. M. Machado, M. M. Oliveira and L. A. F. Fernandes,",
        "A physiologically-based model for simulation of color vision deficiency, 2009, applied to linear light.",
    ]),
}


def pairs_hold():
    """Whether both packages give each printed difference, to within its four decimals and either way round."""
    lines = (tables.HERE / "ciede2000.csv").read_text(encoding="utf-8").splitlines()
    is_right = True
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        one, other = ([float(row[axis + side]) for axis in "lab"] for side in "12")
        printed = [float(row["difference"]), *([float(row["or"])] if row["or"] else [])]
        for a, b in ((one, other), (other, one)):
            one_lab, other_lab = coloraide.Color("lab-d65", a), coloraide.Color("lab-d65", b)
            answers = (float(colour.difference.delta_E_CIE2000(a, b)),
                       one_lab.delta_e(other_lab, method="2000", space="lab-d65"))
            is_right &= all(any(abs(answer - wanted) < 1e-4 for wanted in printed) for answer in answers)
    return is_right


def main():
    are_right = pairs_hold()
    if not are_right:
        print("ciede2000.csv is not what the packages answer", file=sys.stderr)
    lines = {name: (lambda table=table: [",".join(row) for row in table()], remarks) for name, (table, remarks) in TABLES.items()}
    sys.exit(not (tables.hold("colours.py", lines) and are_right))


if __name__ == "__main__":
    main()
