"""EN 1993-1-9: lives of welds, against its curves and published categories."""

import math
from dataclasses import replace

import numpy as np
import pytest

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.members.hinges import knuckle_weld
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.strength.curves import GAMMA_MF, NO_END, ROOT, STEEL, Detail, crossings, toe_category
from rampdraft.strength.fatigue import Wear
from rampdraft.strength.knuckles import counting_mm


def life(category: float, range_mpa: np.ndarray) -> np.ndarray:
    return Detail(category=category, curve=STEEL, words="").life(range_mpa)


def test_the_curve_goes_through_its_published_points() -> None:
    """EN 1993-1-9, 7.1 (from memory): 2 million at the category, 5 million at 0.737 of it, the cut-off at
    0.405 (0.549 of 0.737) at 100 million.
    """
    at = np.array([1.0, 0.737, 0.737 * 0.5495, 0.40]) * 36 / GAMMA_MF
    two, five, hundred, none = life(36.0, at)
    assert two == pytest.approx(2e6)
    assert five == pytest.approx(5e6, rel=2e-3)
    assert hundred == pytest.approx(1e8, rel=0.02)
    assert none == math.inf


@pytest.mark.parametrize(("part", "slope"), [(2.0, 3), (0.6, 5)])
def test_slopes_of_the_curve(part: float, slope: int) -> None:
    one, other = life(71.0, np.array([part, part * 1.01]) * 71.0 / GAMMA_MF)
    assert math.log(one / other) / math.log(1.01) == pytest.approx(slope)


def test_categories_of_the_tables() -> None:
    """EN 1993-1-9, table 8.5, detail 3: 36 at the root of a fillet weld; tables 8.4 and 8.5, detail 1: 80
    to 50 mm, 71 to 80, 63 to 100, 56 beyond (secondary: the tables as written out in public code).
    """
    assert ROOT == 36
    assert [toe_category(at) for at in (50, 50.1, 80, 80.1, 100, 100.1)] == [80, 71, 71, 63, 63, 56]


def worn(*ranges: float) -> Wear:
    return Wear(
        key="one", title="", subject="", leaf="", member="",
        detail=Detail(category=36.0, curve=STEEL, words=""), range_mpa=np.array(ranges),
        times=np.ones(len(ranges)), users=tuple(map(str, ranges)),
    )  # fmt: skip


def test_users_in_turn_use_up_their_lives_together() -> None:
    """Palmgren and Miner: after n crossings, half of each, n/2 / N1 + n/2 / N2 = 1."""
    one, two = (float(life(36.0, np.array(at))) for at in (60.0, 100.0))
    both = worn(60.0, 100.0).crossings
    assert both / 2 / one + both / 2 / two == pytest.approx(1)
    assert worn(5.0).crossings == NO_END


@pytest.mark.parametrize(
    ("value", "told"),
    [(987.6, "987"), (1234.5, "1 230"), (61300.9, "61 300"), (1e9 - 1, "999 000 000"), (1e9, "without end")],
)
def test_crossings_are_rounded_down_to_three_digits(value: float, told: str) -> None:
    assert crossings(value) == told


@pytest.mark.parametrize(
    ("range_mpa", "told"),
    [
        # 2e6 (36 / 115)^3 = 61 353, 5e6 (36 x 0.737 / 23)^5 = 10.2 million
        (100.0, "(36 MPa / (1.15 x 100 MPa))3 = 61 300"),
        (20.0, "(26.5 MPa / (1.15 x 20 MPa))5 = 10 200 000"),
        (12.0, "so small a range tires nothing"),
    ],
)
def test_the_working_tells_the_life_of_each_range(range_mpa: float, told: str) -> None:
    lines = worn(1.0, range_mpa).lines()
    assert lines[0] == f"most by {range_mpa}: range of stress ds = {range_mpa:.0f} MPa"
    assert lines[2].endswith(told)


def checked(design: Design, key: str) -> Check:
    return next(one for one in evaluate(design).checks if one.id == f"own/crossings/{key}")


def test_a_deck_weld_by_hand() -> None:
    """Range on the throat of 1 mm: the force that each user brings to a knuckle, over what counts of its
    weld.
    """
    design = with_value(starter_design(), "joining.weld_throat_mm", 1.0)
    found, hinge = evaluate(design), starter_design().deck_hinge
    weld = knuckle_weld(hinge, design.inner_leaf, 0.0)
    assert weld is not None
    _, square = counting_mm(weld, (hinge.knuckle_length_mm + hinge.side_gap_mm) / 2)
    forces = found.carried.hinge_n[: len(design.use.users)].max(axis=1)
    lives = [float(life(36.0, np.array(force / square / 1.0))) for force in forces]
    told = checked(design, "deck-knuckles").value
    assert told == pytest.approx(len(lives) / sum(1 / one for one in lives))


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_crossings_are_judged_at_their_limit(share: float) -> None:
    borne = checked(starter_design(), "joint-knuckles").value
    assert borne is not None
    check = checked(with_value(starter_design(), "use.crossings", share * borne), "joint-knuckles")
    assert check.ratio == pytest.approx(share)
    assert check.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)
    assert "MPa" in " ".join(check.working)


def test_a_thicker_weld_tires_later_by_its_cube() -> None:
    thin, thick = (
        checked(with_value(starter_design(), "joining.weld_throat_mm", throat), "joint-knuckles").value
        for throat in (3.0, 3.3)
    )
    assert (thick or 0) / (thin or 1) == pytest.approx(1.1**3, rel=1e-6)


def test_welds_of_several_metals_are_not_judged_and_none_asked_is_none_told() -> None:
    design = starter_design()
    made = replace(design.made_of, cross_members="aluminium 6082-T6")
    crossed = replace(design.outer_leaf, cross_positions_mm=(300.0,))
    mixed = replace(design, made_of=made, outer_leaf=crossed)
    assert checked(mixed, "outer-rails").status is Status.UNJUDGED
    none = evaluate(with_value(design, "use.crossings", 0.0)).checks
    assert not [one for one in none if one.about.kind == "own/crossings"]
