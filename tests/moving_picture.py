"""A picture that moves by itself: the ramp comes down, somebody rolls up, and it is folded away. SVG with its
own animation (SMIL), so it is crisp at every size, and a few kilobytes.

The fold's poses are joined by straight lines in both angles, so that its way-points are all the key frames.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from rampdraft.drawing import surroundings
from rampdraft.drawing.ink import Ink, Path, Picture
from rampdraft.drawing.rolling import body_marks
from rampdraft.drawing.side import ramp_marks
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.svg import picture_svg
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import edge_height_mm, linkage
from rampdraft.mechanics.rolled import AlongSite, UserAt
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.model.rolling_shape import shape_of

BOX: Final = (-1900.0, -130.0, 4300.0, 2080.0)
WIDE_MM: Final = 160.0
K: Final = WIDE_MM / (BOX[2] - BOX[0])
DOWN_S: Final = (1.0, 4.5)
ROLL_S: Final = (5.2, 10.2)
UP_S: Final = (11.0, 14.5)
END_S: Final = 15.5
"""When the ramp comes down, somebody rolls up, and it is folded; then it begins again."""
PLACES: Final = 48
"""Of the user: between them it moves in a straight line."""

Frames = Sequence[tuple[float, str]]
"""Seconds, and what holds then."""


def on_paper(x_mm: float, z_mm: float) -> tuple[float, float]:
    """Return where a point of the side plane is on the picture: y runs down."""
    return (x_mm - BOX[0]) * K, (BOX[3] - z_mm) * K


def moving_svg(evaluation: Evaluation) -> str:
    """Return the ramp of an evaluation at its first site, and its first user on it, as an SVG document that
    moves.
    """
    design, site = evaluation.design, evaluation.sites[0]
    along = AlongSite(design, 1, site, Surfaces(design, evaluation.assembly, site), "deck")
    shape = shape_of(design.use.users[0])
    off = site.whole.going_mm + shape.wheelbase_mm + 300.0
    users = [along.at(off - (off + 0.9 * shape.wheelbase_mm + 400.0) * n / PLACES) for n in range(PLACES + 1)]
    body = {member.key: member.body for member in evaluation.assembly.members}
    ground = surroundings.ground_marks(ground_line(design.sites[0]), BOX[0], BOX[2], 1.0 / K)
    deck = surroundings.carrier_marks(design, edge_height_mm(design), 1.0 / K, -BOX[0])
    lying = ramp_marks(evaluation, pose=site.pose, drop_mm=0.0, flap_rad=site.flap_rad, fine=False)
    paths = [mark for mark in lying if isinstance(mark, Path) and mark.pen != "hidden"]
    parts = {leaf: [mark for mark in paths if body.get(mark.owner) == leaf] for leaf in ("inner", "outer")}
    rider = _group(body_marks(shape, users[0], "use.users[1]"))
    bars = linkage(design)
    inner, outer = fold_frames(evaluation, on_paper(*bars.hinge), on_paper(*bars.joint(site.pose.inner_rad)))
    leaves = turning(inner, _group(parts["inner"]) + turning(outer, _group(parts["outer"])))
    moves, leans = user_frames(users)
    shown = [(0.0, "0"), (DOWN_S[1], "0"), (ROLL_S[0], "1"), (ROLL_S[1], "1"), (UP_S[0], "0"), (END_S, "0")]
    up = moving("translate", moves, turning(leans, rider))
    whole = f'<g opacity="0">{_animate("animate", "opacity", shown)}{up}</g>'
    scene = Picture(title="A fold and a roll-over", marks=(*ground, *deck), box=BOX)
    head, _, _ = picture_svg(scene, width_mm=WIDE_MM).rpartition("</svg>")
    return f"{head}{leaves}{whole}</svg>\n"


def fold_frames(
    evaluation: Evaluation, hinge: tuple[float, float], joint: tuple[float, float]
) -> tuple[Frames, Frames]:
    """Return how the inner leaf turns about the deck hinge, and the outer one about the joint as it lies
    deployed, from the stowed ramp down and back: in degrees against the deployed pose, on paper.
    """
    path, down = evaluation.fold.path, evaluation.sites[0].pose
    ways = (
        [(0.0, 1.0)]
        + [(DOWN_S[1] - share * (DOWN_S[1] - DOWN_S[0]), share) for share in reversed(path.at)]
        + [(UP_S[0] + share * (UP_S[1] - UP_S[0]), share) for share in path.at]
        + [(END_S, 1.0)]
    )
    inner: list[tuple[float, str]] = []
    outer: list[tuple[float, str]] = []
    for at_s, share in ways:
        pose = path.pose(share)
        inner.append((at_s, _turned(down.inner_rad - pose.inner_rad, hinge)))
        outer.append((at_s, _turned(down.fold_rad - pose.fold_rad, joint)))
    return inner, outer


def user_frames(users: Sequence[UserAt]) -> tuple[Frames, Frames]:
    """Return how a user moves, and leans about its front axle, against the first place."""
    first = users[0]
    x0, y0 = on_paper(*first.front)
    step_s = (ROLL_S[1] - ROLL_S[0]) / (len(users) - 1)
    moves, leans = [(0.0, "0 0")], [(0.0, _turned(0.0, (x0, y0)))]
    for number, user in enumerate(users):
        x, y = on_paper(*user.front)
        moves.append((ROLL_S[0] + number * step_s, f"{x - x0:.2f} {y - y0:.2f}"))
        leans.append((ROLL_S[0] + number * step_s, _turned(user.pitch_rad - first.pitch_rad, (x0, y0))))
    return [*moves, (END_S, moves[-1][1])], [*leans, (END_S, leans[-1][1])]


def turning(frames: Frames, inside: str) -> str:
    """Return a group that turns."""
    return moving("rotate", frames, inside)


def moving(how: str, frames: Frames, inside: str) -> str:
    """Return a group that moves; where nothing is moved by itself it stands as at first."""
    begins = f'<g transform="{how}({frames[0][1]})">'
    return f"{begins}{_animate('animateTransform', 'transform', frames, f' type={how!r}')}{inside}</g>"


def _animate(kind: str, what: str, frames: Frames, more: str = "") -> str:
    times = ";".join(f"{at_s / END_S:.4f}".rstrip("0").rstrip(".") for at_s, _ in frames)
    values = ";".join(value for _, value in frames)
    return (
        f'<{kind} attributeName="{what}"{more} dur="{END_S:g}s" repeatCount="indefinite"'
        f' keyTimes="{times}" values="{values}"/>'
    )


def _turned(clockwise_rad: float, about: tuple[float, float]) -> str:
    return f"{math.degrees(clockwise_rad):.2f} {about[0]:.2f} {about[1]:.2f}"


def _group(marks: Iterable[Ink]) -> str:
    """Return marks as they are drawn in any picture of the project."""
    svg = picture_svg(Picture(title="", marks=tuple(marks), box=BOX), width_mm=WIDE_MM)
    return "\n".join(_drawn(svg))


def _drawn(svg: str) -> Iterator[str]:
    """Yield the lines of what is drawn, behind the paper."""
    _, _, drawn = svg.partition("<rect")
    yield from drawn.partition("/>\n")[2].removesuffix("</svg>\n").splitlines()
