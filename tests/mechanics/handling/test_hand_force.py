"""The force along the fold, at the poses of which it is told."""

import math
from dataclasses import replace

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.folding import fold_path
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.handling.lifting import energy_nmm, weighed_linkage
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design


def sprung(slack_deg: float) -> Design:
    start = timber_ramp()
    assist = replace(start.assist, kind="torsion", count=2, rate_nmm_deg=900.0, slack_deg=slack_deg)
    return replace(start, assist=assist)


@pytest.mark.parametrize("design", [timber_ramp(), sprung(50.0), sprung(90.0)])
def test_each_force_is_told_of_its_pose_on_the_path(design: Design) -> None:
    assembly, site = assemble(design), design.sites[0]
    path = fold_path(design, site, stand(design, assembly, site, 1).pose)
    found, weighed = hand_force(design, assembly, path), weighed_linkage(design, assembly)
    poses = [path.pose(float(at)) for at in found.at]
    energy = energy_nmm(
        weighed, np.array([one.inner_rad for one in poses]), np.array([one.fold_rad for one in poses])
    )
    assert found.energy_nmm == pytest.approx(energy - energy[0], abs=1e-6 * np.ptp(energy))
    assert (np.diff(found.at) >= -1e-12).all()
    assert (found.at[0], found.at[-1]) == pytest.approx((0.0, 1.0))


def test_where_a_spring_goes_slack_the_force_has_a_corner_that_is_looked_at() -> None:
    design = sprung(50.0)
    assembly, site = assemble(design), design.sites[0]
    path = fold_path(design, site, stand(design, assembly, site, 1).pose)
    turned = [math.degrees(path.pose(float(at)).inner_rad) for at in hand_force(design, assembly, path).at]
    assert min(abs(angle - 50.0) for angle in turned) < 1e-9
    plain = hand_force(timber_ramp(), assembly, path).at
    assert min(abs(math.degrees(path.pose(float(at)).inner_rad) - 50.0) for at in plain) > 1e-3
