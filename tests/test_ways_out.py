"""Ways out: the value told just passes, the one before it does not, and what else it does is what the whole evaluation says."""

import pytest

from rampdraft.checks.result import Check
from rampdraft.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.dimension import Dim
from rampdraft.model.edits import with_value
from rampdraft.model.fields import info_of
from rampdraft.ways_out.results import Value, WayOut
from rampdraft.ways_out.ways import ways_out

TOO_STEEP = next(path for path in sample_paths() if path.stem == "too-steep")


@pytest.fixture(scope="module")
def steep() -> Evaluation:
    return evaluate(load_design(TOO_STEEP), TOO_STEEP.parent)


@pytest.fixture(scope="module")
def found(steep: Evaluation) -> dict[str, tuple[WayOut, ...]]:
    return ways_out(steep)


def judged(base: Evaluation, path: str, value: Value) -> dict[str, Check]:
    changed = evaluate(with_value(base.design, path, value), TOO_STEEP.parent)
    return {check.id: check for check in changed.checks}


def fails(checks: dict[str, Check], id: str) -> bool:
    return id in checks and checks[id].fails


def test_each_failing_check_has_its_answer_and_no_other_has(steep: Evaluation, found: dict[str, tuple[WayOut, ...]]) -> None:
    assert set(found) == {check.id for check in steep.checks if check.fails}
    assert sum(map(len, found.values())) > 10
    assert all(list(ways) == sorted(ways, key=lambda way: way.share) for ways in found.values())


def test_the_value_told_just_passes_and_one_step_less_does_not(steep: Evaluation, found: dict[str, tuple[WayOut, ...]]) -> None:
    tried = 0
    for id, ways in found.items():
        for way in ways:
            info = info_of(way.path)
            assert info is not None
            assert not fails(judged(steep, way.path, way.after), id), (id, way.path)
            if isinstance(info.record, Dim):
                grid = min(info.record.step, 1.0)
                less = way.after - grid if way.after > way.before else way.after + grid
                assert way.after / grid == pytest.approx(round(way.after / grid))
                assert fails(judged(steep, way.path, less), id), (id, way.path)
                tried += 1
    assert tried > 10
