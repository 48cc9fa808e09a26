"""How many random surveys that are known to have a ramp are solved, and how soon, in time of one processor:
`python tests/solved.py --count 200`. Fails on none.
"""

import argparse
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import NamedTuple

sys.path[:0] = [str(Path(__file__).parent.parent), str(Path(__file__).parent)]

from explore.proposals.backwards import first_found, passes, surveys  # noqa: E402

from rampdraft.explore.pool import AFRESH  # noqa: E402
from rampdraft.files.samples import samples_folder  # noqa: E402
from rampdraft.model.design import Design  # noqa: E402

WITHIN_S = 60.0


class Solved(NamedTuple):
    """What came of a survey: after so many seconds, whether there was a ramp, and whether it passes."""

    seconds: float
    found: bool
    holds: bool


def solved(survey: Design) -> Solved:
    """Return what comes of a survey."""
    begin = time.process_time()
    found = first_found(survey)
    took = time.process_time() - begin
    return Solved(took, found is not None, found is None or passes(found, samples_folder()))


def main() -> None:
    """Tell of each survey that is not solved, then of all."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--processes", type=int, default=2)
    options = parser.parse_args()
    with ProcessPoolExecutor(options.processes, mp_context=AFRESH) as workers:
        asked = [(name, workers.submit(solved, one)) for name, one in surveys(options.count, options.seed)]
        told = [(name, one.result()) for name, one in asked]
    for number, (name, one) in enumerate(told, start=1):
        if not one.found or not one.holds or one.seconds > WITHIN_S:
            print(f"survey {number}, from {name}: {one}")
    seconds = sorted(one.seconds for _, one in told)
    within = sum(one.found and one.seconds <= WITHIN_S for _, one in told)
    print(
        f"solved: {sum(one.found for _, one in told)} of {options.count}, {within} within {WITHIN_S:.0f} s;"
        f" {sum(not one.holds for _, one in told)} proposed that fail; median"
        f" {seconds[len(seconds) // 2]:.1f} s, most {seconds[-1]:.1f} s"
    )


if __name__ == "__main__":
    main()
