"""Which rail, side and place are told to be the worst hangs on no last digit of the influence lines."""

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding import clearance
from rampdraft.mechanics.loading import carrying
from rampdraft.mechanics.loading.grillage import Grillage, grillage
from rampdraft.mechanics.loading.loads import user_loads


@pytest.mark.parametrize("seed", range(6))
def test_the_worst_place_of_each_load_is_the_same_on_every_processor(monkeypatch, seed: int) -> None:
    design, random = timber_ramp(), np.random.default_rng(seed)
    frame, mass = grillage(design), assemble(design).leaves_kg
    loads = tuple(user_loads(design, (0.0,)))
    plain = carrying.carry(design, frame, mass, loads, 0.01).worst
    made = Grillage.closed
    monkeypatch.setattr(
        Grillage,
        "closed",
        lambda self, *some: (found := made(self, *some)) * (1 + 1e-14 * random.uniform(-1, 1, found.shape)),
    )
    found = carrying.carry(design, frame, mass, loads, 0.01).worst
    assert [(one.leaf, one.rail, one.forwards) for one in found] == [
        (one.leaf, one.rail, one.forwards) for one in plain
    ]
    for one, other in zip(found, plain, strict=True):
        places = one.section_mm, one.first_axle_mm, one.across_mm, one.moment_nmm
        assert places == pytest.approx(
            (other.section_mm, other.first_axle_mm, other.across_mm, other.moment_nmm)
        )


def test_of_distances_alike_the_first_is_told() -> None:
    distance = np.array([5.0, 3.0 + 1e-13, 3.0, 3.0 - 1e-13, 7.0])
    least, chosen = clearance._least_of_each(clearance._told(distance), np.zeros(5, dtype=np.intp), 1)
    assert (least[0], chosen[0]) == (3.0, 1)
