"""The room that the fold needs: how far the moving ramp reaches over the whole path."""

import numpy as np

from rampdraft.geometry.linkage import edge_height_mm, linkage, moved
from rampdraft.geometry.members.member import INSIDE, Assembly, Body
from rampdraft.geometry.outline import Outline, Point
from rampdraft.mechanics.folding.motion import motions, steps_of, turned
from rampdraft.mechanics.results import Envelope, FoldPath
from rampdraft.model.design import Design

STEP_RAD = float(np.radians(2.0))

LEAVES: tuple[tuple[Body, int], ...] = (("inner", 1), ("outer", 2))
"""Bodies that move, and the place of their motion in FRAMES."""


def envelope(design: Design, assembly: Assembly, path: FoldPath) -> Envelope:
    """Return the reach of the ramp over the path about the deck edge, with the deck empty, never too small.

    Corners are placed at steps of the path; between two of them one strays outward by at most r s^2 / 8 for
    each turn s that carries it, which is added.
    """
    poses = steps_of(path, STEP_RAD).poses
    every = motions(design)
    low, high = np.full(2, np.inf), np.full(2, -np.inf)
    over = 0.0
    height = edge_height_mm(design)
    for body, frame in LEAVES:
        motion = every.of(np.array([frame]))
        local = np.array(hull_of(assembly, body)).T - motion.own_hinge
        a, b = motion.angles(poses)
        placed = (motion.centre + turned(motion.arm, a))[:, :, None] + turned(local[:, None], b[:, None])
        stray = (4 * float(np.hypot(*local).max()) + float(np.hypot(*motion.arm)[0])) * STEP_RAD**2 / 8
        low = np.minimum(low, placed.min(axis=(1, 2)) - stray)
        high = np.maximum(high, placed.max(axis=(1, 2)) + stray)
        above = placed[1] + stray > height
        over = max(over, float((stray - placed[0][above]).max(initial=0.0)))
    return Envelope(
        in_front_mm=max(0.0, float(high[0])),
        above_ground_mm=float(high[1]),
        above_deck_mm=max(0.0, float(high[1]) - height),
        over_deck_mm=over,
    )


def hull_of(assembly: Assembly, body: Body) -> tuple[Point, ...]:
    """Return the convex hull of a leaf in its own frame, counter-clockwise; a knuckle counts as the square
    around it.

    Arcs of other outlines are hollow, so their corners suffice. Andrew's monotone chain (Andrew, 1979).
    """
    members = [member for member in assembly.of(body) if member.role not in INSIDE]
    outlines = {id(member.silhouette): member.silhouette for member in members}
    points = sorted({point for outline in outlines.values() for point in _corners(outline)})
    return (*_chain(points)[:-1], *_chain(points[::-1])[:-1])


def _corners(outline: Outline) -> list[Point]:
    points = [(x, y) for x, y, _ in outline.vertices]
    if len(points) > 2:
        return points
    (x0, y), (x1, _) = points[0], points[-1]
    radius = (x1 - x0) / 2
    return [(x, y + side) for x in (x0, x1) for side in (-radius, radius)]


def swept_outlines(design: Design, assembly: Assembly, path: FoldPath, count: int) -> tuple[Outline, ...]:
    """Return both leaves' hulls in the side plane in `count` poses spread over the path: what a drawing
    paints as swept.
    """
    hulls = {body: Outline(tuple((u, w, 0.0) for u, w in hull_of(assembly, body))) for body, _ in LEAVES}
    bars = linkage(design)
    outlines: list[Outline] = []
    for share in np.linspace(0.0, 1.0, count):
        placed = bars.placings(path.pose(float(share)))
        outlines.extend(moved(hulls[body], placed[body]) for body, _ in LEAVES)
    return tuple(outlines)


def _chain(points: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for x, y in points:
        while len(chain) > 1:
            (x0, y0), (x1, y1) = chain[-2], chain[-1]
            if (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain
