"""The fold: its path from deployed to stowed, what the load does to the joint, the stowed size."""

import math

import numpy as np

from rampdraft.geometry.ground_line import GroundLine, ground_line
from rampdraft.geometry.linkage import Linkage, Placing, Pose, linkage, placings
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.member import INSIDE, Assembly, Body
from rampdraft.geometry.outline import Point
from rampdraft.mechanics.folding.bodies import Index
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.folding.envelope import envelope
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.joint import joint_verdict
from rampdraft.mechanics.results import FoldPath, FoldResult, SitePose, StageSpan, Stowed
from rampdraft.model.design import Design, FoldStage, Site
from rampdraft.units import MM, RAD
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

TOE_LIFT_MM = 10.0
"""How far the toe is held off the ground while it is drawn in."""

SLIDE_STEP_RAD = math.radians(4.0)
FREE_HANG_RAD = -math.pi / 2

_LEAVES: tuple[Body, ...] = ("inner", "outer")


def fold_result(design: Design, assembly: Assembly, deployed: SitePose) -> FoldResult:
    """Return the fold from the deployed pose at the first site, with the deck empty, to the stowed one."""
    site = design.sites[0]
    path = fold_path(design, site, deployed.pose)
    return FoldResult(
        path=path,
        clearance=fold_clearance(design, assembly, path, site),
        hand=hand_force(design, assembly, path),
        envelope=envelope(design, assembly, path),
        stowed=stowed(design, assembly),
        joint=joint_verdict(design),
    )


def closing_sense(design: Design) -> int:
    """Return which way the joint turns as it closes: 1 where the faces come together, -1 the backs."""
    return 1 if design.fold.closing == "faces" else -1


def closed_pose(design: Design) -> Pose:
    """Return the stowed pose."""
    return Pose(
        math.radians(design.fold.stowed_deg), closing_sense(design) * math.radians(design.fold.closed_deg)
    )


def fold_path(design: Design, site: Site, deployed: Pose) -> FoldPath:
    """Return the user's own stages as a path, or the usual one for the closing.

    Backs together: the joint is lifted while the toe is drawn in just off the ground, then the outer leaf
    hangs freely, then both are pushed upright. Faces together: the outer leaf is swung over onto the inner
    one, then both are lifted.
    """
    if design.fold_stages:
        legs = [
            (
                stage.say,
                [
                    Pose(math.radians(a), math.radians(b))
                    for a, b in (*stage.via_deg, (stage.inner_deg, stage.fold_deg))
                ],
            )
            for stage in design.fold_stages
        ]
    elif design.fold.closing == "faces":
        end = closed_pose(design)
        legs = [
            (
                say("Swing the outer leaf up and over until it lies on the inner leaf."),
                [Pose(deployed.inner_rad, end.fold_rad)],
            ),
            (say("Lift both leaves together until they stand at the stowed angle, and latch them."), [end]),
        ]
    else:
        legs = _hanging_legs(design, site, deployed)
    return path_of_legs(deployed, [(words, poses) for words, poses in legs if poses])


def stages_of(path: FoldPath) -> tuple[FoldStage, ...]:
    """Return a path as the stages of a design, in tenths of a degree."""
    found: list[FoldStage] = []
    for stage in path.stages:
        *via, end = [
            (round(math.degrees(pose.inner_rad), 1), round(math.degrees(pose.fold_rad), 1))
            for share, pose in zip(path.at, path.poses, strict=True)
            if stage.start < share <= stage.end
        ]
        found.append(FoldStage(say=stage.say, inner_deg=end[0], fold_deg=end[1], via_deg=tuple(via)))
    return tuple(found)


def stowed(design: Design, assembly: Assembly) -> Stowed:
    """Return the size of the stowed ramp about the deck edge, from the true silhouettes, with the deck
    empty.
    """
    pose, bars = closed_pose(design), linkage(design)
    placed, height = bars.placings(pose), bars.edge[1]
    silhouettes = [
        {id(one.silhouette): one.silhouette for one in assembly.of(body) if one.role not in INSIDE}.values()
        for body in _LEAVES
    ]
    # Straight-chord points of a disc stay inside it by the sagitta; 0.02 mm does not show.
    outlines = [[outline.points(0.02) for outline in shapes] for shapes in silhouettes]
    count = np.array([len(outline) for of_leaf in outlines for outline in of_leaf])
    x, z = np.concatenate(
        [
            _points(placed[body], np.array([point for outline in of_leaf for point in outline]).T)
            for body, of_leaf in zip(_LEAVES, outlines, strict=True)
        ],
        axis=1,
    )
    following = 1 + np.arange(len(x))
    following[np.cumsum(count) - 1] -= count
    across = math.cos(pose.inner_rad) * z - math.sin(pose.inner_rad) * x
    return Stowed(
        pose=pose,
        above_deck_mm=max(0.0, float(z.max()) - height),
        below_deck_mm=max(0.0, height - float(z.min())),
        thickness_mm=float(across.max() - across.min()),
        over_deck_mm=_over_deck_mm(x, z, following, height),
        out_mm=max(0.0, float(x.max())),
        centre=_centre(design, assembly, pose),
    )


def _points(placing: Placing, points: Array) -> Array:
    """Return body points (u, w), shape (2, n), as points (x, z) of the side plane."""
    (u, w), cos, sin = points, math.cos(placing.angle_rad), math.sin(placing.angle_rad)
    return np.stack((placing.x_mm + cos * u - sin * w, placing.z_mm + sin * u + cos * w))


def _over_deck_mm(x: Array, z: Array, following: Index, height: MM) -> MM:
    """Return how far in over the deck outlines' corners above the deck stand, or their sides where they come
    through it; `following` is the next corner of each.
    """
    above = z > height
    start = np.flatnonzero(above != above[following])
    end = following[start]
    through = x[start] + (x[end] - x[start]) * (height - z[start]) / (z[end] - z[start])
    return max(0.0, float((-x[above]).max(initial=0.0)), float((-through).max(initial=0.0)))


def _centre(design: Design, assembly: Assembly, pose: Pose) -> Point:
    placed = placings(design, pose)
    bodies = ((placed["inner"], assembly.inner), (placed["outer"], assembly.outer))
    total = sum(body.mass_kg for _, body in bodies)
    points = [(body.mass_kg, placing.point(body.centre_mm[0], body.centre_mm[2])) for placing, body in bodies]
    return sum(m * x for m, (x, _) in points) / total, sum(m * z for m, (_, z) in points) / total


def _hanging_legs(design: Design, site: Site, deployed: Pose) -> list[tuple[str, list[Pose]]]:
    end, bars, toe = closed_pose(design), linkage(design), toe_corners(design)
    ground = ground_line(site)
    slide: list[Pose] = []
    inner = deployed.inner_rad
    free = False
    while not free and inner < end.inner_rad:
        inner = min(inner + SLIDE_STEP_RAD, end.inner_rad)
        fold, free = toe_off_ground(bars, toe, ground, inner, TOE_LIFT_MM)
        fold = min(fold, deployed.fold_rad)
        slide.append(Pose(inner, fold))
    hang_inner = end.inner_rad
    hang_fold = max(end.fold_rad, FREE_HANG_RAD - hang_inner)
    hang = [Pose(hang_inner, hang_fold)] if hang_inner > inner else []
    last = (hang or slide or [deployed])[-1]
    shut = [end] if max(abs(end.fold_rad - last.fold_rad), abs(end.inner_rad - last.inner_rad)) > 1e-6 else []
    degrees = math.degrees(inner)
    return [
        (
            say(
                "Lift the joint until the inner leaf stands at {inner}; the toe comes in just off the"
                " ground.",
                inner=fixed(degrees, 0, "°"),
            ),
            slide,
        ),
        (
            say(
                "Raise the inner leaf to {inner} and let the outer leaf hang.",
                inner=fixed(math.degrees(hang_inner), 0, "°"),
            ),
            hang,
        ),
        (say("Press the outer leaf against the inner one, and latch it."), shut),
    ]


def toe_off_ground(
    bars: Linkage, toe: tuple[Point, ...], ground: GroundLine, inner_rad: RAD, lift_mm: MM
) -> tuple[RAD, bool]:
    """Return the joint's angle with the toe's corners held so far off the ground, and whether the outer leaf
    hangs freely instead.
    """
    joint_x, joint_z = bars.joint(inner_rad)
    lowest = FREE_HANG_RAD
    for corner in toe:
        u, w = bars.from_hinge("outer", corner)
        reach, lean = math.hypot(u, w), math.atan2(w, u)
        turned = FREE_HANG_RAD
        # The ground's height depends on where the corner comes to be; on level ground one turn is exact.
        for _ in range(3):
            x = joint_x + reach * math.cos(turned + lean)
            room = joint_z - ground.height_mm(x) - lift_mm
            turned = max(
                FREE_HANG_RAD, -math.asin(max(-1.0, room / reach)) - lean if room < reach else FREE_HANG_RAD
            )
        lowest = max(lowest, turned)
    return lowest - inner_rad, lowest <= FREE_HANG_RAD


def toe_corners(design: Design) -> tuple[Point, ...]:
    """Return the corners of the toe that may come lowest, in the outer leaf's frame."""
    leaf, toe = design.outer_leaf, design.toe
    end, underside = leaf.length_mm, -leaf.rail_section.depth_mm
    if toe.kind == "taper":
        return (end - toe.length_mm, underside), (end, -toe.thickness_mm)
    if toe.kind == "flap":
        flap = flap_outline(design, math.radians(toe.carried_deg))
        return (end, underside), *((u, w) for u, w, _ in flap.vertices)
    return ((end, underside),)


def path_of_legs(start: Pose, legs: list[tuple[str, list[Pose]]]) -> FoldPath:
    """Return way-points as a path whose shares grow with the angle turned, so that it runs at an even
    speed.
    """
    poses, lengths = [start], [0.0]
    ends: list[int] = []
    for _, leg in legs:
        for pose in leg:
            turn = max(
                abs(pose.inner_rad - poses[-1].inner_rad), abs(pose.fold_rad - poses[-1].fold_rad), 1e-9
            )
            poses.append(pose)
            lengths.append(lengths[-1] + turn)
        ends.append(len(poses) - 1)
    at = [length / lengths[-1] for length in lengths]
    starts = [0, *ends[:-1]]
    stages = tuple(
        StageSpan(say=say, start=at[first], end=at[last], pose_end=poses[last])
        for (say, _), first, last in zip(legs, starts, ends, strict=True)
    )
    return FoldPath(at=tuple(at), poses=tuple(poses), stages=stages)
