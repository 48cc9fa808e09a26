"""How much of a slat or plate bears a wheel, and what bends it, each by hand."""

import math

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.bridge import bridge_reach_mm
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.strength.surface import Boards, CrossMembers


def part_of(design: Design, key: str) -> Boards | CrossMembers:
    parts = {family.key: part for family, part in evaluate(design).strengths.parts}
    part = parts[key]
    assert isinstance(part, Boards | CrossMembers)
    return part


def joined(wide: np.ndarray, width: float, least: np.ndarray) -> np.ndarray:
    """Return 1 / b^2 = 1 / b0^2 + 1 / B^2; what the tyre covers bears, and no more than there is."""
    return np.minimum(np.maximum(1 / np.sqrt(1 / wide**2 + 1 / width**2), least), width)


@pytest.mark.parametrize(("material", "spread"), [("timber C24", 30**-0.25), ("steel S235", 1.0)])
def test_how_much_of_a_slat_bears_a_wheel(material: str, spread: float):
    """In a bay k (0.22 L + s / 3) + 2 c / 3, at its corner 1.1 k a + 2 c / 3, less a screw or two; the tyre
    goes on at 45 degrees to the middle of the slat, s on both sides of it and c on one.
    """
    slats = part_of(with_value(timber_ramp(), "made_of.slats", material), "inner-slats")
    patches = slats.bent.patches
    s, c = patches.across_mm + 18, patches.along_mm + 9
    bay = joined(spread * (0.22 * 386 + s / 3) + 2 / 3 * c, 95, c)
    assert slats.bent.wide_mm[:, 0] == pytest.approx(bay)
    out = 860 / 2 - 386
    corner = joined(1.1 * spread * out + 2 / 3 * c, 95, c)
    assert slats.bent.wide_mm[:, 1] == pytest.approx(np.minimum(corner, 95 - 2 * 5.5))
    assert [length for _, length in slats.bent.places][:2] == [386, out]


def test_what_bends_a_slat_beyond_the_outer_rail():
    """A tyre that ends where the slat does: F (a - c / 2), or what of it is out there, F a^2 / 2 c."""
    slats = part_of(with_value(timber_ramp(), "use.rule_sets", ("us-vehicle",)), "inner-slats")
    patches, out = slats.bent.patches, 44.0
    assert not patches.at_edge.all()  # a patch in the middle does not come there
    size = patches.across_mm
    moment = np.where(size <= out, patches.force_n * (out - size / 2), patches.force_n * out**2 / 2 / size)
    assert (size <= out).any()
    assert (size > out).any()
    assert slats.bent.moment_nmm[:, 1] == pytest.approx(np.where(patches.at_edge, moment, 0.0))


def test_the_bridge_plate_bears_along_its_way():
    """It spans to where it bears, with the wheel at its side; a steel plate, as stiff both ways."""
    design = with_value(timber_ramp(), "bridge.fitted", value=True)
    found = evaluate(design)
    plate = part_of(design, "bridge")
    assert found.bridge_bears_mm is not None
    nearest, farthest = found.bridge_bears_mm
    patches, thick, width = plate.bent.patches, design.bridge.thickness_mm, design.inner_leaf.width_mm
    s, c = patches.along_mm + thick, patches.across_mm + thick / 2
    assert plate.bent.wide_mm[:, 0] == pytest.approx(joined(0.22 * farthest + s / 3 + 2 / 3 * c, width, c))
    middle = np.where(
        patches.along_mm <= farthest,
        patches.force_n * (2 * farthest - patches.along_mm) / 8,
        patches.force_n / patches.along_mm * farthest**2 / 8,
    )
    assert plate.bent.moment_nmm[:, 0] == pytest.approx(middle)
    out = max(0.0, bridge_reach_mm(design) - nearest)
    assert plate.bent.wide_mm[:, 1] == pytest.approx(joined(1.1 * out + 2 / 3 * c, width, c))
    assert math.isclose(plate.bent.places[1][1], out)
    assert out > 0


def test_wheels_in_a_bay_and_beside_a_rail():
    """A wheel in the middle, F (2 L - c) / 8, or both of an axle where they have room; beside a rail the
    other one of its axle further in, F (2 - t / L).
    """
    crosses = part_of(timber_ramp(), "inner-cross")
    patches, bay = crosses.bent.patches, 386.0
    alone = patches.track_mm + patches.across_mm > bay
    assert alone.any()
    middle = patches.force_n * (2 * bay - patches.across_mm) / 8
    assert crosses.bent.moment_nmm[:, 0][patches.track_mm == 0] == pytest.approx(
        middle[patches.track_mm == 0]
    )
    assert (crosses.bent.moment_nmm[:, 0] >= middle - 1e-9).all()
    other = np.where(patches.track_mm > 0, np.maximum(0.0, 1 - patches.track_mm / bay), 0.0)
    assert crosses.end_n == pytest.approx(patches.force_n * (1 + other))
