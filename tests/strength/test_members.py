"""The members of a ramp as they are judged: results are plain data, the same in another process."""

import pickle

import numpy as np
import pytest
from ramps import with_leaves
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.section import Section
from rampdraft.strength.members import members_of, rail_lines, verdicts
from rampdraft.strength.rails import rail_capacity_nmm
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD, Utilisation


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_members_and_verdicts_survive_another_process(path):
    found = evaluate(load_design(path), path.parent)
    for one in (found.strengths, found.verdicts, found.carried):
        sent = pickle.loads(pickle.dumps(one))
        assert sent == one
    assert (
        members_of(found.design, found.carried, found.wheels, found.bridge_bears_mm, found.bar_line_mm)
        == found.strengths
    )
    sent = pickle.loads(pickle.dumps(found.verdicts))
    workings = [
        (one.utilisation.outcome.worked.lines(), other.utilisation.outcome.worked.lines())
        for one, other in zip(found.verdicts, sent, strict=True)
        if isinstance(one.utilisation, Utilisation)
    ]
    assert workings
    assert all(lines == others for lines, others in workings)


def test_arrays_of_what_the_members_carry_are_read_only_wherever_they_are():
    carried = evaluate(timber_ramp()).carried
    for one in (carried, pickle.loads(pickle.dumps(carried))):
        with pytest.raises(ValueError, match="read-only"):
            one.inner.moment_nmm[0] = 0
    other = pickle.loads(pickle.dumps(carried.inner))
    assert other == carried.inner
    assert other != carried.outer
    assert not np.shares_memory(other.moment_nmm, carried.inner.moment_nmm)


def test_one_and_the_same_members_are_asked_on_each_basis():
    found = evaluate(timber_ramp())
    limits, ultimate, proof = (
        found.strengths.utilisations(basis, found.strengths.in_use)
        for basis in (LIMIT_STATES, ULTIMATE, YIELD)
    )
    assert [one.utilisation for one in found.verdicts] == list(limits)
    assert verdicts(found.strengths) == found.verdicts
    for one, other in zip(limits, ultimate, strict=True):
        assert isinstance(one, Utilisation)
        assert isinstance(other, Utilisation)
        assert one.ratio > other.ratio, one.family
    assert all(isinstance(one, Utilisation) for one in proof)


@pytest.mark.parametrize("fitting", ["between", "under", "half_lap"])
@pytest.mark.parametrize("thin", [False, True])
def test_what_is_told_of_a_member_names_one_that_exists(fitting: str, thin: bool):
    """Also of one that cannot be judged, its walls being too thin."""
    section = Section(kind="box", depth_mm=40, width_mm=80, wall_mm=1 if thin else 3)
    lap = {"half_lap_mm": 10.0} if fitting == "half_lap" else {}
    design = with_leaves(timber_ramp(), cross_section=section, cross_fitting=fitting, **lap)
    found = evaluate(design)
    keys = {member.key for member in found.assembly.members}
    told = [one.utilisation.member for one in found.verdicts]
    assert [key for key in told if key not in keys] == []
    crosses = [one.utilisation for one in found.verdicts if "cross member" in one.utilisation.member]
    assert crosses
    assert {isinstance(one, Utilisation) for one in crosses} == {not thin}


def test_the_line_of_a_rail_is_its_load_with_factors_and_what_it_takes_with_every_step():
    """1.35 G + 1.5 Q where it sags; where the load lifts it, its own weight helps with no more than G."""
    cross = Section(kind="box", depth_mm=30, width_mm=36, wall_mm=2)
    design = with_leaves(timber_ramp(), cross_section=cross, cross_fitting="half_lap", half_lap_mm=15.0)
    found = evaluate(design)
    lines = rail_lines(design, found.carried, found.strengths, 0)
    for line, forces in zip(lines, (found.carried.inner, found.carried.outer), strict=True):
        own, load = forces.self_weight_moment_nmm, forces.moment_nmm[0]
        assert line.moment_nmm == pytest.approx((1.35 * own + 1.5 * load).max(axis=0))
        lifted = (own + 1.5 * forces.hogging_nmm[0]).min(axis=0)
        assert (lifted < 0).any()
        assert line.hogging_nmm == pytest.approx(np.minimum(lifted, 0.0))
        shear = 1.35 * forces.self_weight_shear_n + 1.5 * forces.shear_n[0]
        assert line.shear_n == pytest.approx(shear.max(axis=0))
        assert line.rail == 1 + int(load.max(axis=1).argmax())
        assert line.capacity is not None
        places, takes = line.capacity
        leaf, start = (design.inner_leaf, 0.0) if line.body == "inner" else (design.outer_leaf, 1350.0)
        assert (places[0], places[-1]) == (start, start + leaf.length_mm)
        at = start + leaf.cross_positions_mm[0]
        notched, whole = (
            float(rail_capacity_nmm(design, line.body, np.array([place]))[0])
            for place in (leaf.cross_positions_mm[0], 10.0)
        )
        # A place just beside each edge of the notch: the line steps there.
        for edge, inward in ((at - 18.0, 1), (at + 18.0, -1)):
            beside = np.interp([edge - 0.1 * inward, edge + 0.1 * inward], places, takes)
            assert beside == pytest.approx([whole, notched])
