"""Benchmarks: `python tests/bench/run.py [--beside CHECKOUT] [NAME ...]` prints one line a figure and
fails on none.

`name: median unit (n runs)` is a time, told besides as a multiple of the calibration, a fixed piece of
plain Python and of sums on small arrays, since machines differ; `name: ratio x (reference ...)` compares
two ways in the same run, taking turns. With `--beside` and the folder of another checkout `beside`
compares the two.
"""

import itertools
import math
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from random import Random
from statistics import median

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program has it, for the other checkout too
import numpy as np
import shapely

ROOT = Path(__file__).parent.parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "validation")]

import shapely_clearance  # noqa: E402
from dragging import dragging  # noqa: E402
from proposing import proposing  # noqa: E402
from test_grillage_second_opinion import Frame  # noqa: E402

from rampdraft.evaluation.evaluate import Evaluation, evaluate  # noqa: E402
from rampdraft.explore.ways_out.ways import ways_out  # noqa: E402
from rampdraft.export.pack import write_pack  # noqa: E402
from rampdraft.files.design_file import load_design  # noqa: E402
from rampdraft.files.samples import sample_paths  # noqa: E402
from rampdraft.geometry.linkage import Pose  # noqa: E402
from rampdraft.mechanics.folding.clearance import fold_clearance  # noqa: E402
from rampdraft.mechanics.folding.clearance_map import MOST_MM, clearance_map  # noqa: E402
from rampdraft.mechanics.folding.search import find_fold  # noqa: E402
from rampdraft.mechanics.loading.grillage import grillage  # noqa: E402
from rampdraft.mechanics.loading.places import Over  # noqa: E402
from rampdraft.mechanics.rolling.everywhere import roll_everywhere  # noqa: E402
from rampdraft.mechanics.rolling.roll import STEP_MM, roll  # noqa: E402
from rampdraft.mechanics.rolling.surfaces import Surfaces  # noqa: E402
from rampdraft.mechanics.rolling.wheel_path import wheel_paths  # noqa: E402
from rampdraft.model.starter import starter_design  # noqa: E402
from rampdraft.shop.cutting.plan import least_plan  # noqa: E402
from rampdraft.shop.cutting.results import CuttingPlan, Length, Saw, Wanted  # noqa: E402


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def taking_turns(works: tuple[Callable[[], object], ...], runs: int) -> tuple[float, ...]:
    """Return the median seconds of each, measured in turns so that a busy moment hits all alike; one round
    warms up.
    """
    rounds = [[seconds(work) for work in works] for _ in range(runs + 1)][1:]
    return tuple(median(times) for times in zip(*rounds, strict=True))


def largest_sample() -> tuple[Path, Evaluation]:
    evaluations = [(path, evaluate(load_design(path), path.parent)) for path in sample_paths()]
    return max(evaluations, key=lambda found: len(found[1].assembly.members))


CALIBRATION_ROUNDS = 60


def calibration() -> float:
    """Return the seconds of a fixed piece of work of the two kinds that the program is made of: plain Python,
    and sums on arrays so small that the calls count more than the sums.
    """
    total, small = 0.0, np.arange(24.0)
    start = time.perf_counter()
    for number in range(CALIBRATION_ROUNDS):
        words = {f"{key}": key * 0.5 for key in range(40)}
        total += sum(words[str(key)] for key in range(40)) + len(sorted(words, key=words.__getitem__))
        total += float(np.maximum(small * number, small[::-1]).sum()) + float(np.hypot(small, number).max())
    assert total > 0
    return time.perf_counter() - start


def calibrated(took: float) -> str:
    """Return a time in ms, and as a multiple of the calibration."""
    unit = median(calibration() for _ in range(15))
    return f"{took * 1e3:.1f} ms = {took / unit:.2f} x calibration"


def calibrations() -> Iterator[str]:
    unit = median(calibration() for _ in range(41))
    yield f"calibration: {unit * 1e3:.2f} ms (41 runs)"


def evaluation() -> Iterator[str]:
    path, found = largest_sample()
    whole, plain = taking_turns(
        (
            lambda: [check.working for check in evaluate(found.design, path.parent).complete().checks],
            lambda: evaluate(found.design, path.parent).complete(),
        ),
        41,
    )
    yield f"evaluate {path.stem}, {len(found.assembly.members)} members: {calibrated(whole)} (41 runs)"
    yield f"evaluate {path.stem}, without the prose of the working: {calibrated(plain)} (41 runs)"


def strength() -> Iterator[str]:
    """From a changed bump factor to strength and carrier: four users and the rated load at three places
    across, both ways round.
    """
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    found = evaluate(load_design(path), path.parent).complete()
    factors = itertools.cycle((1.2, 1.3))

    def all_of_it() -> None:
        after = found.changed("use.bump_factor", next(factors))
        assert after.strength
        assert after.made(Evaluation.steadiness)

    (took,) = taking_turns((all_of_it,), 41)
    users = len(found.design.use.users)
    yield f"strength after a changed bump factor, {users} users: {calibrated(took)} (41 runs)"


def grillage_beside_pynite() -> Iterator[str]:
    """Strength and carrier after a changed bump factor, against PyNiteFEA for the same places of loads: one
    of them, a frame of its own, taken for all.
    """
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    found = evaluate(load_design(path), path.parent).complete()
    design, factors = found.design, itertools.cycle((1.2, 1.3))
    places = len(Over(design, found.frame, found.carried.loads, found.across).places.rows)

    def ours() -> None:
        after = found.changed("use.bump_factor", next(factors))
        assert after.strength
        assert after.made(Evaluation.steadiness)

    def theirs() -> None:
        frame = grillage(design)
        second = Frame(design, frame)
        second.put(0, 1, float(frame.inner_mm[2]), 1000.0)
        second.moments()

    took, one = taking_turns((ours, theirs), 7)
    times = one * places / took
    reference = f"PyNiteFEA, {places} places of loads, {one * 1e3:.0f} ms each"
    yield f"strength and carrier: {times:.0f} x (reference: {reference})"


class Turns:
    """A process of a checkout that does one piece of work whenever it is told to."""

    def __init__(self, checkout: Path, work: str) -> None:
        command = [sys.executable, str(Path(__file__).parent / "turns.py"), work]
        self._process = subprocess.Popen(
            command, cwd=checkout, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        assert self._said() == "ready"

    def seconds(self) -> float:
        assert self._process.stdin is not None
        self._process.stdin.write("go\n")
        self._process.stdin.flush()
        return float(self._said())

    def close(self) -> None:
        self._process.communicate()

    def _said(self) -> str:
        assert self._process.stdout is not None
        return self._process.stdout.readline().strip()


BESIDE = (
    ("full", "full", 41),
    ("plain", "full", 41),
    ("leaf", "full", 41),
    ("hinge", "full", 41),
    ("pitch", "full", 41),
    ("deck", "full", 41),
    ("ways", "ways", 7),
)
"""What is worked here, what there, and how often."""


def beside(checkout: Path) -> Iterator[str]:
    for here, there, runs in BESIDE:
        pair = Turns(ROOT, here), Turns(checkout, there)
        rounds = [[one.seconds() for one in pair] for _ in range(runs + 1)][1:]
        for one in pair:
            one.close()
        ours, theirs = (median(times) for times in zip(*rounds, strict=True))
        ratio = median(a / b for a, b in rounds)
        yield (
            f"beside: {here} here {calibrated(ours)}, {there} there {theirs * 1e3:.1f} ms: {ratio:.2f} x"
            f" ({runs} turns)"
        )


def drag(checkout: Path | None = None) -> Iterator[str]:
    """A drag on the drawing, beside the whole evaluation of another checkout in the same run."""
    there = Turns(checkout, "full") if checkout is not None else None
    yield from dragging(largest_sample(), calibrated, there.seconds if there is not None else None)
    if there is not None:
        there.close()


def checks_found(evaluation: Evaluation) -> tuple[tuple[str, float | None], ...]:
    return tuple((check.id, check.value) for check in evaluation.checks)


MANY = 2000


def many_designs() -> Iterator[str]:
    """Random designs that can be built, judged in one process and in two."""
    from any_design import designs

    from rampdraft.explore.pool import ask_each, pool

    many = list(designs(MANY, seed=1))
    start = time.perf_counter()
    here = ask_each(many, checks_found)
    one = time.perf_counter() - start
    with pool(2) as workers:
        ask_each(many[:64], checks_found, workers=workers)  # both have begun
        start = time.perf_counter()
        there = ask_each(many, checks_found, workers=workers)
        two = time.perf_counter() - start
    apart = sum(a != b for a, b in zip(here, there, strict=True))
    same = "all answers equal" if not apart else f"{apart} answers differ"
    yield f"{MANY} designs: {MANY / one:.0f} a second in one process, {MANY / two:.0f} in two, {same}"
    yield f"{MANY} designs: {one / two:.2f} x (reference: one process, {one:.0f} s)"


def clearance() -> Iterator[str]:
    design = starter_design()
    found = evaluate(design)
    path, site = found.fold.path, design.sites[0]
    scene = shapely_clearance.scene_of(design, found.assembly)
    at = found.fold.clearance.at.tolist()
    certified, plain = taking_turns(
        (
            lambda: fold_clearance(design, found.assembly, path, site),
            lambda: shapely_clearance.clearances(
                design, shapely_clearance.scene_of(design, found.assembly), path, at
            ),
        ),
        5,
    )
    (certified,) = taking_turns((lambda: fold_clearance(design, found.assembly, path, site),), 41)
    yield f"certified clearance of the default fold: {certified * 1e3:.1f} ms (41 runs)"
    apart = np.abs(
        np.maximum(found.fold.clearance.clearance_mm, 0)
        - shapely_clearance.clearances(design, scene, path, at)
    )
    reference = (
        f"shapely, {len(scene.things)} bodies, {len(scene.met)} pairs at the same {len(at)} poses, nothing"
        " proved between"
    )
    yield (
        f"certified clearance: {plain / certified:.1f} x (reference: {reference}, {plain * 1e3:.0f} ms, 5"
        f" runs; largest difference {apart.max():.4f} mm)"
    )


def fold_map() -> Iterator[str]:
    design = starter_design()
    found = evaluate(design)
    site, lowest = design.sites[0], found.sites[0].pose.inner_rad
    (mapped,) = taking_turns((lambda: clearance_map(design, found.assembly, site, lowest),), 21)
    yield f"clearance map 181 x 181: {mapped * 1e3:.0f} ms (21 runs)"
    surface = clearance_map(design, found.assembly, site, lowest)
    scene = shapely_clearance.telling(
        design, shapely_clearance.scene_of(design, found.assembly), found.fold.path
    )
    picked = np.random.default_rng(1).integers(0, 181, (120, 2))
    poses = [Pose(float(surface.inner_rad[i]), float(surface.fold_rad[j])) for i, j in picked]
    plain = np.minimum([shapely_clearance.least(design, scene, pose) for pose in poses], MOST_MM)
    took = seconds(lambda: [shapely_clearance.least(design, scene, pose) for pose in poses])
    told = surface.clearance_mm[picked[:, 0], picked[:, 1]]
    open_poses = told > 0
    apart = np.abs(told - plain)[open_poses].max()
    times = took / len(poses) * surface.clearance_mm.size / mapped
    reference = (
        f"shapely at {len(poses)} of the same poses, {took / len(poses) * 1e3:.1f} ms each, taken for all of"
        " them"
    )
    agrees = f"largest difference {apart:.4f} mm in {int(open_poses.sum())} poses without a clash"
    yield f"clearance map: {times:.0f} x (reference: {reference}; {agrees})"


def way_to_fold() -> Iterator[str]:
    design = starter_design()
    found = evaluate(design)
    site, deployed = design.sites[0], found.sites[0].pose
    (took,) = taking_turns((lambda: find_fold(design, found.assembly, site, deployed),), 11)
    yield f"way to fold, searched and certified: {took * 1e3:.0f} ms (11 runs)"


UNTIL_PAINTED = """
import os
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QMainWindow
class EndWhenPainted(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and isinstance(watched, QMainWindow):
            os._exit(0)
        return False
app = QApplication([])
end = EndWhenPainted()
app.installEventFilter(end)
"""
EMPTY_WINDOW = UNTIL_PAINTED + "window = QMainWindow(); window.show(); app.exec()"
OUR_WINDOW = UNTIL_PAINTED + "from rampdraft.app.shell.main import run; run(None)"
OUR_DRAWING = "from rampdraft.app.shell.main import run; run(None, show_for_ms=0)"


def window() -> Iterator[str]:
    with tempfile.TemporaryDirectory() as home:
        environment = os.environ | {
            "QT_QPA_PLATFORM": "offscreen",
            "HOME": home,
            "XDG_CONFIG_HOME": home,
            "XDG_DATA_HOME": home,
        }

        def process(code: str) -> Callable[[], object]:
            command = [sys.executable, "-c", code]
            return lambda: subprocess.run(
                command, cwd=ROOT, env=environment, stderr=subprocess.DEVNULL, check=True
            )

        codes = (OUR_WINDOW, EMPTY_WINDOW, OUR_DRAWING)
        ours, empty, drawn = taking_turns(tuple(process(code) for code in codes), 11)
    yield f"window shown: {ours * 1e3:.0f} ms (11 runs)"
    yield (
        f"window shown: {ours / empty:.2f} x (reference: an empty window started the same way,"
        f" {empty * 1e3:.0f} ms, 11 runs)"
    )
    yield f"window opened on a new design, drawn and closed: {drawn * 1e3:.0f} ms (11 runs)"


def redraw() -> Iterator[str]:
    """From an edit of the inner leaf's length in an open window to the last widget painted."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtCore import QSettings

    from rampdraft.app.shell.main import application
    from rampdraft.app.shell.window import Window

    path, found = largest_sample()
    with tempfile.TemporaryDirectory() as home:
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, home)
        app, window = application(), Window()
        window.resize(1400, 900)
        window.show()
        document = window.furnish().document
        document.open(found.design, None, path.parent)
        app.processEvents()
        lengths = itertools.cycle((found.design.inner_leaf.length_mm + 1, found.design.inner_leaf.length_mm))

        def edit() -> None:
            document.edit("inner_leaf.length_mm", next(lengths), "Inner leaf length")
            app.processEvents()

        evaluated, edited = taking_turns((lambda: evaluate(found.design, path.parent).complete(), edit), 41)
        window.close_unasked()
    yield (
        f"redraw after an edit of {path.stem}: {edited * 1e3:.1f} ms, of which evaluate {evaluated * 1e3:.1f}"
        " ms (41 runs)"
    )


def pack() -> Iterator[str]:
    path, found = largest_sample()
    with tempfile.TemporaryDirectory() as folder:
        (took,) = taking_turns((lambda: write_pack(found, Path(folder)),), 5)
    yield f"workshop pack of {path.stem}: {took:.2f} s (5 runs)"


def ways() -> Iterator[str]:
    path = next(path for path in sample_paths() if path.stem == "too-steep")
    found = evaluate(load_design(path), path.parent)
    failing = [check.id for check in found.checks if check.fails]
    count = sum(map(len, ways_out(found).values()))
    every, evaluated = taking_turns(
        (lambda: ways_out(found), lambda: evaluate(found.design, path.parent).complete()), 7
    )
    single = [seconds(partial(ways_out, found, check)) for check in failing]
    told = f"{len(failing)} failing checks, {count} ways, each judged by all checks"
    yield f"ways out of all failing checks of {path.stem}: {every * 1e3:.0f} ms ({told}; 7 runs)"
    yield (
        f"ways out of all: {every / evaluated:.0f} x (reference: evaluate of the same design,"
        f" {evaluated * 1e3:.1f} ms, 7 runs)"
    )
    yield (
        f"ways out of one check, as it is opened: {median(single) * 1e3:.0f} ms, {max(single) * 1e3:.0f} ms"
        " at most"
    )


def rolling() -> Iterator[str]:
    """Users over the sites of a sample, and ways of wheels beside shapely's buffer of the same outlines."""
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    found = evaluate(load_design(path), path.parent)
    design, assembly, sites = found.design, found.assembly, found.sites
    carrier = found.straight, found.at_rest, found.props_set

    def one() -> None:
        surfaces = Surfaces(design, assembly, sites[0])
        assert [roll(design, 1, sites[0], surfaces, facing) for facing in ("deck", "away")]

    both, every = taking_turns((one, lambda: roll_everywhere(design, assembly, sites, *carrier)), 11)
    yield f"one user over one site, both facings at {STEP_MM:g} mm: {both * 1e3:.0f} ms (11 runs)"
    users, count = len(design.use.users), len(sites)
    yield f"{users} users over {count} poses at sites: {every * 1e3:.0f} ms (11 runs)"
    surfaces = Surfaces(design, assembly, sites[0])
    radii = (62.5, 100.0, 165.0, 305.0)
    outlines = [surfaces.under(y).points_mm for y in (250.0, 280.0, 0.0)]
    rolled = [(outline, radius) for outline in outlines for radius in radii]
    for few, what in ((rolled, f"{len(rolled)} at once"), *((rolled[at : at + 1], "one") for at in range(4))):
        lines = [(shapely.LineString(outline), radius, chords(radius)) for outline, radius in few]
        ours, theirs = taking_turns(
            (
                partial(wheel_paths, few),
                lambda lines=lines: [line.buffer(radius, quad_segs=count) for line, radius, count in lines],
            ),
            21,
        )
        sizes = "to".join(f" {radius:g} " for radius in sorted({few[0][1], few[-1][1]}))
        yield (
            f"ways of wheels' centres,{sizes}mm, {what}: {theirs / ours:.0f} x (reference: shapely's buffer"
            f" alone to 0.01 mm, {theirs / len(lines) * 1e3:.2f} ms each)"
        )


def chords(radius_mm: float) -> int:
    """Return by how many chords shapely must follow a quarter of a circle to be within 0.01 mm of it."""
    return math.ceil(math.pi / 2 / math.sqrt(8 * 0.01 / radius_mm))


def rolling_dragged() -> Iterator[str]:
    """What the rolling view takes of the processor at a step of a drag, beside what the document does: the
    chosen user's way and worst place, drawn and painted.
    """
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtCore import QSettings

    from rampdraft.app.shell.main import application
    from rampdraft.app.shell.window import Window

    with tempfile.TemporaryDirectory() as home:
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, home)
        app = application()
        for path in sample_paths():
            window = Window()
            window.resize(1280, 800)
            window.show()
            desk = window.furnish()
            desk.document.open(load_design(path), None, path.parent)
            desk.views.setCurrentWidget(desk.rolling)
            app.processEvents()
            view, design = desk.rolling, desk.document.design
            assert design is not None
            desk.document.changed.disconnect(view.refresh)
            took: list[float] = []
            for number in range(41):
                longer = replace(design.inner_leaf, length_mm=design.inner_leaf.length_mm + number % 7)
                desk.document.preview(replace(design, inner_leaf=longer))
                assert desk.document.evaluation is not None
                desk.document.evaluation.complete()
                start = time.thread_time()
                view.refresh()
                for part in (view.canvas, *view.bar.charts):
                    part.grab()
                took.append(time.thread_time() - start)
            desk.document.give_back()
            window.close_unasked()
            least, middle = min(took[1:]) * 1e3, median(took[1:]) * 1e3
            yield f"rolling view dragged, {path.stem}: {middle:.1f} ms CPU, least {least:.1f} (40 runs)"


def solid_scrubbed() -> Iterator[str]:
    """What a place of the fold's scrubber takes of the processor with the solid in front: order, faces,
    painting, and the scrubber with its charts.
    """
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtCore import QSettings

    from rampdraft.app.shell.main import application
    from rampdraft.app.shell.window import Window

    path, _ = largest_sample()
    with tempfile.TemporaryDirectory() as home:
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, home)
        app = application()
        window = Window()
        window.resize(1280, 800)
        window.show()
        desk = window.furnish()
        desk.document.open(load_design(path), None, path.parent)
        desk.step_work.take("")
        for panel in (desk.side, desk.solid):
            desk.views.setCurrentWidget(panel)
            desk.fold_bar.go(0.0)
            app.processEvents()
            took: list[float] = []
            for number in range(121):
                start = time.thread_time()
                desk.fold_bar._move(number / 120)
                for part in (panel.canvas, desk.fold_bar):
                    part.repaint()
                took.append(time.thread_time() - start)
            name = panel.canvas.accessibleName()
            middle, late = median(took[1:]) * 1e3, sorted(took[1:])[-2] * 1e3
            yield (
                f"{name} at each place of the fold, {path.stem}: {middle:.1f} ms CPU, 99th percentile"
                f" {late:.1f} (120 places)"
            )
        window.close_unasked()


def cutting() -> Iterator[str]:
    """Return figures of the cutting plan: random lists, each in one and in three stock lengths."""
    saw, runs = Saw(kerf_mm=3, trim_mm=0), 6
    plans: list[CuttingPlan] = []

    def work(pieces: list[Wanted], lengths: list[Length]) -> None:
        plans.append(least_plan(pieces, lengths, saw))

    for stock in ((6000,), (4000, 6000, 7500)):
        lengths = [Length(section="box", material="", length_mm=length) for length in stock]
        took: list[float] = []
        plans.clear()
        for seed in range(runs):
            random = Random(seed)
            pieces = [
                Wanted(
                    part=f"P{number}",
                    section="box",
                    material="",
                    length_mm=random.randint(200, 3000),
                    quantity=1,
                )
                for number in range(200)
            ]
            took.append(seconds(partial(work, pieces, lengths)))
        proven = sum(plan.proven_least for plan in plans)
        over = max(len(plan.bars) - plan.least_bars for plan in plans)
        yield (
            f"cutting plan of 200 random pieces, {len(stock)} stock lengths: {calibrated(median(took))}"
            f" (at most {max(took):.1f} s; {proven} of {runs} proven fewest, at most {over} beyond the bound)"
        )


FIGURES: dict[str, Callable[[], Iterator[str]]] = {
    "calibration": calibrations,
    "evaluate": evaluation,
    "strength": strength,
    "clearance": clearance,
    "map": fold_map,
    "way": way_to_fold,
    "ways": ways,
    "window": window,
    "redraw": redraw,
    "pack": pack,
    "many": many_designs,
    "grillage": grillage_beside_pynite,
    "cutting": cutting,
    "proposals": proposing,
    "rolling": rolling,
    "dragged": rolling_dragged,
    "drag": drag,
    "solid": solid_scrubbed,
}


def main(names: list[str]) -> int:
    checkout = None
    if "--beside" in names:
        place = names.index("--beside")
        checkout = Path(names[place + 1])
        del names[place : place + 2]
    figures = dict(FIGURES)
    if checkout is not None:
        figures |= {"beside": lambda: beside(checkout), "drag": lambda: drag(checkout)}
    unknown = [name for name in names if name not in figures]
    if unknown:
        print(f"no figure {', '.join(unknown)}; there are: {', '.join(figures)}", file=sys.stderr)
        return 2
    for name in names or figures:
        for line in figures[name]():
            print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
