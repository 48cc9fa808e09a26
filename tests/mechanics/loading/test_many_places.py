"""All places of the loads at once, beside each of them by itself."""

from collections.abc import Iterator

import numpy as np
import pytest
from any_design import designs

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.loading.places import Over
from rampdraft.units import Array


def ramps() -> Iterator[Evaluation]:
    yield from (evaluate(load_design(path), path.parent) for path in sample_paths())
    yield from map(evaluate, designs(12))


def assert_alike(found: Array, other: Array) -> None:
    np.testing.assert_allclose(found, other, rtol=1e-9, atol=1e-9 * np.abs(other).max())


def test_a_stretch_of_the_ramp_gives_what_all_of_it_gives() -> None:
    """In the order in which they are tried and in any other, with a load that weighs nothing among them."""
    random = np.random.default_rng(1)
    for ramp in ramps():
        frame = ramp.frame
        rows = Over(ramp.design, frame, ramp.loads, ramp.across).places.rows
        for tried in (rows, random.permutation(rows), np.zeros_like(rows[:100])):
            assert_alike(frame.closed(tried), tried @ frame.effects.T)


def test_the_worst_of_all_places_is_the_worst_of_each_by_itself() -> None:
    """On even ground with props as long as each other, and the first of the ways round that are as bad."""
    ties = 0
    for ramp in ramps():
        frame = ramp.frame
        over = Over(ramp.design, frame, ramp.loads, 0.0)
        if over.slack_mm:
            continue
        mirrored = frame.mirrored if over.alike else slice(None)
        bends = frame.place("outer moments")[0].stop
        for number, told in enumerate(over.worst()):
            here = over.places.group == over.group[number]
            found = frame.bearing(over.places.rows[here]) * over.weight[number]
            assert_alike(over.most.values[number], np.maximum(found, found[:, mirrored]).max(0, initial=0.0))
            assert_alike(over.least.values[number], np.minimum(found, found[:, mirrored]).min(0, initial=0.0))
            bent = found[:, :bends].max(axis=1)
            assert told.moment_nmm == pytest.approx(bent.max(), rel=1e-9, abs=1e-6)
            ways = over.places.way[here][bent >= bent.max() * (1 - 0.9e-9)]
            assert told.way <= ways.min()
            ties += len(set(ways.tolist())) > 1
    assert ties
