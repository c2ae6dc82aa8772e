"""Tables that packages which are not ours work out, written anew or compared. The scripts beside it import it; alone it does nothing."""

import math
import pathlib
import sys

HERE = pathlib.Path(__file__).parent


def alike(a, b):
    """Whether two cells say the same; numbers may differ in the last digits that another processor rounds otherwise."""
    try:
        return a == b or math.isclose(float(a), float(b), rel_tol=1e-9, abs_tol=2e-9)
    except ValueError:
        return False


def same(written, computed):
    """Whether two tables say the same."""
    rows = [(a.split(","), b.split(",")) for a, b in zip(written, computed)]
    return len(written) == len(computed) and all(len(a) == len(b) and all(map(alike, a, b)) for a, b in rows)


def hold(script, tables):
    """Whether the tables, by name what gives their lines and what is remarked above them, are written as the packages answer.
    With --write they are written instead."""
    are_same = True
    for name, (lines_of, remarks) in tables.items():
        lines = [f"# {remark}" for remark in [*remarks, f"Recomputed by {script} beside this file."]] + lines_of()
        path = HERE / name
        if "--write" in sys.argv:
            path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        elif not same(path.read_text(encoding="utf-8").splitlines(), lines):
            print(f"{name} is not what the packages answer", file=sys.stderr)
            are_same = False
    return are_same
