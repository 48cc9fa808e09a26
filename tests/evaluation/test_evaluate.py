"""The one door: the same twice, frozen, and for any change of one step a whole answer or a DesignError."""

import dataclasses
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.errors import DesignError, FileError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at, walk, with_value
from rampdraft.model.fields.record import Dim

ROOT = Path(__file__).parent.parent.parent
SAMPLES = {path.stem: path for path in sorted((ROOT / "samples").glob("*.toml"))}
DESIGNS = {"starter": timber_ramp(), **{name: load_design(path) for name, path in SAMPLES.items()}}
FOLDER = next(iter(SAMPLES.values())).parent


def leaves_of(value: Any, at: str = "evaluation") -> Iterator[tuple[str, Any]]:
    """Yield (where, value) of every number, text and array in a result, however deep."""
    if isinstance(value, np.ndarray):
        yield at, value
    elif isinstance(value, Evaluation):
        for stage in value.stages:
            if not stage.aside:
                yield from leaves_of(value.made(stage), f"{at}.{stage.name}")
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from leaves_of(getattr(value, field.name), f"{at}.{field.name}")
    elif isinstance(value, tuple | list):
        for number, item in enumerate(value):
            yield from leaves_of(item, f"{at}[{number}]")
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from leaves_of(item, f"{at}[{key!r}]")
    else:
        yield at, value


def same(a: Any, b: Any) -> bool:
    return np.array_equal(a, b) if isinstance(a, np.ndarray) else a == b


def assert_finite(found: Evaluation) -> None:
    for at, value in leaves_of(found):
        if ".at_rest." in at:
            continue  # a support without a stop pushes on for ever
        if isinstance(value, float | np.ndarray):
            assert np.isfinite(value).all(), at


@pytest.mark.parametrize("name", sorted(DESIGNS))
def test_the_same_twice_and_finite(name):
    design = DESIGNS[name]
    first, second = (list(leaves_of(evaluate(design, FOLDER))) for _ in range(2))
    assert len(first) > 2000
    assert [at for at, _ in first] == [at for at, _ in second]
    for (at, a), (_, b) in zip(first, second, strict=True):
        assert same(a, b), at
    assert_finite(evaluate(design, FOLDER))


def test_a_design_loaded_anew_gives_the_same():
    path = SAMPLES["library-trailer"]
    first, second = (list(leaves_of(evaluate(load_design(path), FOLDER))) for _ in range(2))
    assert all(
        np.array_equal(a, b) if isinstance(a, np.ndarray) else a == b
        for (_, a), (_, b) in zip(first, second, strict=True)
    )


def test_frozen_with_read_only_arrays():
    found = evaluate(DESIGNS["starter"])
    arrays = [value for _, value in leaves_of(found) if isinstance(value, np.ndarray)]
    assert len(arrays) >= 2
    for array in arrays:
        assert not array.flags.writeable
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 1
    with pytest.raises(dataclasses.FrozenInstanceError):
        found.checks = ()
    with pytest.raises(AttributeError):
        found.design = timber_ramp()
    for group in (
        found.fold,
        found.fold.clearance,
        found.fold.path,
        found.sites[0],
        found.assembly,
        found.parts[0],
    ):
        field = dataclasses.fields(group)[0].name
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(group, field, None)


def test_nothing_changes_in_what_it_is_given():
    design = timber_ramp()
    before = list(leaves_of(design))
    evaluate(design)
    assert list(leaves_of(design)) == before


def test_the_sites_stand_empty_with_somebody_starting_up_and_loaded_in_order():
    design = DESIGNS["library-trailer"]
    found = evaluate(design, FOLDER)
    numbers = range(1, len(design.sites) + 1)
    wanted = [(number, state) for number in numbers for state in ("empty", "starting", "loaded")]
    assert [(pose.site_number, pose.state) for pose in found.sites] == wanted
    for number, state in wanted:
        pose = found.site_pose(number, state)
        assert (pose.site, pose.state) == (design.sites[number - 1].name, state)
    assert found.fold.path.poses[0] == found.site_pose(1, "empty").pose


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("joint.pin_diameter_mm", 40.0),
        ("outer_leaf.length_mm", 5000.0),
        ("inner_leaf.length_mm", math.nan),
        ("carrier.deck_height_mm", -1.0),
        ("made_of.rails", "cheese"),
        ("sites", ()),
    ],
)
def test_a_design_that_contradicts_itself_is_refused(path, value):
    design = with_value(timber_ramp(), path, value)
    with pytest.raises(DesignError) as caught:
        evaluate(design)
    assert caught.value.problems
    assert caught.value.problems == problems_of(design)


def test_a_rule_set_that_is_not_to_be_had():
    with pytest.raises(FileError):
        evaluate(with_value(timber_ramp(), "use.rule_sets", ("no-such-rules",)))


# One step of one value
# ------------------------------------------------------------------------------------------------


def numbers_of(design: Design) -> list[tuple[str, Dim]]:
    return [(path, info.record) for path, info, _ in walk(design) if isinstance(info.record, Dim)]


def stepped(value: Any, step: float) -> Any:
    return (
        tuple(stepped(one, step) for one in value) if isinstance(value, tuple) else value + type(value)(step)
    )


def assert_whole_or_refused(design: Design) -> None:
    try:
        found = evaluate(design, FOLDER)
    except DesignError:
        assert problems_of(design)
    else:
        assert not problems_of(design)
        assert_finite(found)
        assert found.checks
        assert found.parts


@pytest.mark.parametrize(
    ("path", "steps"),
    [
        (path, (-1, 1)[number % 2])
        for number, (path, _) in list(enumerate(numbers_of(DESIGNS["starter"])))[::5]
    ],
)
def test_one_step_of_any_value(path, steps):
    """Every fifth one, one way; all of them either way with --soak."""
    record = dict(numbers_of(DESIGNS["starter"]))[path]
    assert_whole_or_refused(
        with_value(DESIGNS["starter"], path, stepped(value_at(DESIGNS["starter"], path), steps * record.step))
    )


@pytest.mark.soak
@pytest.mark.parametrize("name", sorted(DESIGNS))
def test_one_step_of_any_value_of_every_sample(name):
    design = DESIGNS[name]
    for path, record in numbers_of(design):
        for steps in (-10, -1, 1, 10):
            assert_whole_or_refused(
                with_value(design, path, stepped(value_at(design, path), steps * record.step))
            )


@pytest.mark.soak
@pytest.mark.parametrize("name", sorted(DESIGNS))
def test_any_value_at_the_ends_of_its_range(name):
    design = DESIGNS[name]
    for path, record in numbers_of(design):
        value = value_at(design, path)
        if not isinstance(value, tuple):
            for end in (record.low, record.high, 0, (record.low + record.high) // 2):
                assert_whole_or_refused(with_value(design, path, type(value)(end)))
