"""What bounds promise: no pose within a step has less, whatever the pair, the pose and the step."""

import numpy as np
import pytest
from plain_clearance import designs

from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.bodies import clash_pairs
from rampdraft.mechanics.folding.bounds import (
    box_bounds,
    certificates,
    exact_separations,
    moving_boxes,
    sway_mm,
    swept_boxes,
)
from rampdraft.mechanics.folding.motion import motions

SHARES = np.linspace(-1, 1, 21)


def pairs_of(name):
    design = designs()[name]
    pairs = clash_pairs(design, assemble(design), design.sites[0])
    return pairs, motions(design).of(pairs.frame_b)


@pytest.mark.parametrize("half_rad", [0.01, 0.05, 0.2, 0.5])
@pytest.mark.parametrize("name", ["starter", "too-steep"])
def test_a_certificate_holds_over_its_step(name, half_rad):
    pairs, motion = pairs_of(name)
    rng = np.random.default_rng(11)
    index = rng.integers(0, len(pairs.a), 1500)
    middle = rng.uniform((-0.5, -3.1), (2.0, 3.1), (1500, 2)).T
    half = rng.uniform(-half_rad, half_rad, (1500, 2)).T
    distance, lower = certificates(pairs, motion, index, np.stack((middle - half, middle + half)))
    over = np.array([exact_separations(pairs, motion, index, middle + share * half)[0] for share in SHARES])
    assert np.allclose(distance, over[10])
    assert (lower <= over.min(axis=0) + 1e-6).all()
    # And it is worth having: within what a turn about the farthest hinge can do at second order, for the
    # middle half.
    near = np.abs(over).max(axis=0) < 1e4
    assert np.median((over.min(axis=0) - lower)[near]) < 3000 * half_rad**2 + 0.01


@pytest.mark.parametrize("name", ["starter", "too-steep"])
def test_boxes_hold_the_parts_and_bound_their_distance(name):
    pairs, motion = pairs_of(name)
    rng = np.random.default_rng(12)
    poses = rng.uniform((-0.5, -3.1), (2.0, 3.1), (12, 2)).T
    index = np.arange(len(pairs.a))
    bound = box_bounds(moving_boxes(pairs, motion, poses).astype(np.float32), pairs, index)
    for k, pose in enumerate(poses.T):
        distance = exact_separations(pairs, motion, index, np.repeat(pose[:, None], len(index), axis=1))[0]
        assert (bound[:, k] <= distance + 1e-6).all()


@pytest.mark.parametrize("step_rad", [0.03, 0.1, 0.4])
@pytest.mark.parametrize("name", ["starter", "too-steep"])
def test_swept_boxes_hold_every_corner_all_the_way(name, step_rad):
    pairs, motion = pairs_of(name)
    rng = np.random.default_rng(13)
    poses = np.array([[0.4], [-1.0]]) + np.cumsum(rng.choice([-step_rad, step_rad], (30, 2)), axis=0).T
    swept = swept_boxes(moving_boxes(pairs, motion, poses), pairs, motion, step_rad)
    parts = len(pairs.radius_b)
    for k in range(poses.shape[1] - 1):
        for share in (0.2, 0.5, 0.8):
            pose = poses[:, k] + share * (poses[:, k + 1] - poses[:, k])
            corners = motion.place(pairs.corners_b, np.repeat(pose[:, None], parts, axis=1))
            assert (corners.min(axis=1) - pairs.radius_b >= swept[:2, :, k] - 1e-9).all()
            assert (corners.max(axis=1) + pairs.radius_b <= swept[2:, :, k] + 1e-9).all()


def test_swept_boxes_are_wider_by_what_a_turn_bends_a_corners_way():
    """By r s^2 / 8 for each turn s of a part: its own hinge turns by both angles, the arm by one."""
    pairs, motion = pairs_of("starter")
    poses, step = np.array([[0.4, 0.5, 0.45], [-1.0, -1.1, -1.2]]), 0.1
    boxes = moving_boxes(pairs, motion, poses)
    swept = swept_boxes(boxes, pairs, motion, step)
    reach = np.hypot(*(pairs.corners_b - motion.own_hinge[:, None])).max(axis=0)
    stray = (reach * (2 * step) ** 2 / 8 + np.hypot(*motion.arm) * step**2 / 8)[:, None]
    assert swept[:2] == pytest.approx(np.minimum(boxes[:2, :, :-1], boxes[:2, :, 1:]) - stray)
    assert swept[2:] == pytest.approx(np.maximum(boxes[2:, :, :-1], boxes[2:, :, 1:]) + stray)


@pytest.mark.parametrize("step_rad", [0.03, 0.1, 0.4])
@pytest.mark.parametrize("name", ["starter", "too-steep"])
def test_no_part_sways_farther_within_half_a_step(name, step_rad):
    pairs, motion = pairs_of(name)
    rng = np.random.default_rng(14)
    parts = len(pairs.radius_b)
    start = rng.uniform((-0.5, -3.1), (2.0, 3.1), (parts, 2)).T
    placed = motion.place(pairs.corners_b, start)
    for turn in ((0.5, 0.5), (0.5, -0.5), (-0.5, 0.2), (0.1, 0.5)):
        moved = motion.place(pairs.corners_b, start + step_rad * np.array(turn)[:, None])
        way = np.hypot(*(moved - placed)).max(axis=0)
        assert (way <= sway_mm(pairs, motion, step_rad) + 1e-9).all()
    # And it is worth having: some part, turned both ways at once, moves nearly so far.
    moved = motion.place(pairs.corners_b, start + step_rad / 2)
    assert (np.hypot(*(moved - placed)).max(axis=0) > 0.7 * sway_mm(pairs, motion, step_rad)).any()
