"""Runs one piece of work of the checkout that it is started in each time it is told to, and prints how
long it took. Understands the checkout of commit f6fda44 too, so that the two can be compared.
"""

import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path.cwd()))

from rampdraft.drawing.side import side_view
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths

try:
    from rampdraft.evaluation.evaluate import evaluate
    from rampdraft.explore.ways_out.ways import ways_out
    from rampdraft.model.fields.paths import value_at, with_value

    OLD = False
except ImportError:  # the commit that all is compared with
    from rampdraft.evaluate import evaluate  # pyright: ignore
    from rampdraft.model.edits import value_at, with_value  # pyright: ignore
    from rampdraft.ways_out.ways import ways_out  # pyright: ignore

    OLD = True

Work = Callable[[], object]


def sample(name: str) -> tuple[Any, Path]:
    path = next(path for path in sample_paths() if path.stem == name)
    return load_design(path), path.parent


def largest() -> tuple[Any, Path]:
    found = [(load_design(path), path.parent) for path in sample_paths()]
    return max(found, key=lambda one: len(evaluate(*one).assembly.members))


def full() -> Work:
    design, folder = largest()

    def work() -> None:
        found = evaluate(design, folder)
        if not OLD:
            found.complete()
            for check in found.checks:
                assert check.working is not None

    return work


def plain() -> Work:
    """Without prose, where prose can be left out."""
    design, folder = largest()
    return (lambda: evaluate(design, folder)) if OLD else (lambda: evaluate(design, folder).complete())


def change_of(path: str) -> Work:
    """From a changed value to members, poses, gradients and the picture from the side; the old commit has
    only the whole evaluation.
    """
    design, folder = largest()
    value, before = value_at(design, path), evaluate(design, folder)
    if not OLD:
        before.complete()
    steps = iter(range(1, 10**6))

    def work() -> None:
        changed = with_value(design, path, value + 0.001 * next(steps))
        found = evaluate(changed, folder) if OLD else evaluate(changed, folder, before)
        assert found.assembly.members
        if not OLD:
            assert found.slopes is not None
        stood = found.sites[0]
        assert side_view(found, pose=stood.pose, drop_mm=0.0, flap_rad=stood.flap_rad, frame="pose").marks

    return work


def ways() -> Work:
    found = evaluate(*sample("too-steep"))
    assert found.checks
    return lambda: ways_out(found)


WORKS: dict[str, Callable[[], Work]] = {
    "full": full,
    "plain": plain,
    "leaf": lambda: change_of("inner_leaf.length_mm"),
    "hinge": lambda: change_of("joint.height_mm"),
    "pitch": lambda: change_of("outer_leaf.slat_pitch_mm"),
    "deck": lambda: change_of("carrier.deck_height_mm"),
    "ways": ways,
}


def answers(work: Work) -> Iterator[str]:
    work()
    yield "ready"
    for _ in sys.stdin:
        start = time.process_time()
        work()
        yield repr(time.process_time() - start)


if __name__ == "__main__":
    for line in answers(WORKS[sys.argv[1]]()):
        print(line, flush=True)
