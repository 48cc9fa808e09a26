"""Way-points of the fold path as stages of the design: one moved, added or taken away.

Way-points are counted along the path from 0, the deployed pose, which the ground gives; the last is the
stowed pose.
"""

import math
import re
from dataclasses import replace
from itertools import pairwise

from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.folding import closing_sense, stages_of
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design, FoldStage
from rampdraft.units import DEG

Corner = tuple[DEG, DEG]
"""Inner leaf's angle and the joint's."""


def own_stages(design: Design, path: FoldPath) -> tuple[FoldStage, ...]:
    """Return the design's own stages, or the usual sequence, which is its path, as such."""
    return design.fold_stages or stages_of(path)


def reachable(design: Design, corner: Corner) -> Corner:
    """Return the nearest corner that the leaves can be in: the joint turns half a turn at most, the way it
    closes.
    """
    (inner, fold), sense = corner, closing_sense(design)
    return min(max(inner, -90.0), 180.0), sense * min(max(sense * fold, 0.0), 180.0)


def corner_of(pose: Pose, step_deg: DEG) -> Corner:
    """Return a pose in degrees, to the nearest step."""
    inner, fold = (
        round(round(math.degrees(angle) / step_deg) * step_deg, 6)
        for angle in (pose.inner_rad, pose.fold_rad)
    )
    return inner, fold


def moved(stages: tuple[FoldStage, ...], number: int, corner: Corner) -> tuple[FoldStage, ...]:
    """Return the stages with way-point `number` put elsewhere."""
    stage, at = _place(stages, number)
    corners = _corners(stages[stage])
    return _with(stages, stage, [*corners[:at], corner, *corners[at + 1 :]])


def added(stages: tuple[FoldStage, ...], before: int, corner: Corner) -> tuple[FoldStage, ...]:
    """Return the stages with one more way-point, on the leg that leads to way-point `before`."""
    stage, at = _place(stages, before)
    corners = _corners(stages[stage])
    return _with(stages, stage, [*corners[:at], corner, *corners[at:]])


def removed(stages: tuple[FoldStage, ...], number: int) -> tuple[FoldStage, ...]:
    """Return the stages without way-point `number`; a stage that has no other goes with it."""
    stage, at = _place(stages, number)
    corners = _corners(stages[stage])
    del corners[at]
    return _with(stages, stage, corners) if corners else (*stages[:stage], *stages[stage + 1 :])


def nearest_share(path: FoldPath, pose: Pose) -> float:
    """Return the share of the path whose pose is nearest to another one, both angles counting alike."""
    found: list[tuple[float, float]] = []
    for (start, a), (end, b) in pairwise(zip(path.at, path.poses, strict=True)):
        di, df = b.inner_rad - a.inner_rad, b.fold_rad - a.fold_rad
        reach = di * di + df * df
        along = (pose.inner_rad - a.inner_rad) * di + (pose.fold_rad - a.fold_rad) * df
        part = min(max(along / reach, 0.0), 1.0) if reach > 0 else 0.0
        away = math.hypot(a.inner_rad + part * di - pose.inner_rad, a.fold_rad + part * df - pose.fold_rad)
        found.append((away, start + part * (end - start)))
    return min(found)[1]


def with_stages(design: Design, stages: tuple[FoldStage, ...]) -> Design:
    """Return the design with these stages as its own."""
    return replace(design, fold_stages=stages)


def _corners(stage: FoldStage) -> list[Corner]:
    return [*stage.via_deg, (stage.inner_deg, stage.fold_deg)]


def _with(stages: tuple[FoldStage, ...], at: int, corners: list[Corner]) -> tuple[FoldStage, ...]:
    before, (*via, (inner, fold)) = stages[at], corners
    say = _said_anew(before.say, ((before.inner_deg, inner), (before.fold_deg, fold)))
    after = replace(before, say=say, inner_deg=inner, fold_deg=fold, via_deg=tuple(via))
    return (*stages[:at], after, *stages[at + 1 :])


def _said_anew(say: str, angles: tuple[tuple[DEG, DEG], ...]) -> str:
    """Return a stage's sentence with the angles to stop at brought up to date; the joint's are told without a
    sign.
    """
    (inner_was, inner), (fold_was, fold) = angles
    texts = {f"{abs(fold_was):.0f}°": f"{abs(fold):.0f}°", f"{inner_was:.0f}°": f"{inner:.0f}°"}
    return re.sub(r"-?\d+°", lambda found: texts.get(found[0], found[0]), say)


def _place(stages: tuple[FoldStage, ...], number: int) -> tuple[int, int]:
    """Return which stage a way-point belongs to, and its place among that stage's own."""
    at = number - 1
    for stage, found in enumerate(stages):
        count = len(found.via_deg) + 1
        if at < count:
            return stage, at
        at -= count
    raise IndexError(f"the fold has no way-point {number}")
