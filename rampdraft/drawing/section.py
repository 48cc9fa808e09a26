"""A section across the ramp: what a plane square to the side plane cuts through, seen from the toe, y to the
right and z up.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from rampdraft.drawing.clip import Box
from rampdraft.drawing.hatching import THIN_MM, Look, hatch, looks
from rampdraft.drawing.ink import Path, area
from rampdraft.drawing.side import fill_of
from rampdraft.geometry.linkage import Placing, moved
from rampdraft.geometry.members.member import Body, Member, Role
from rampdraft.geometry.outline import Outline, Point, rectangle
from rampdraft.geometry.sections import box_radii_mm
from rampdraft.units import MM

Interval = tuple[MM, MM]

_SAGITTA_MM: Final = 0.02
_LONG: Final[tuple[Role, ...]] = ("rail", "prop")
"""Bars that run along the side plane: cut square, they show their section."""
_FRONT: Final[dict[Role, int]] = {"pin": 2, "stop bar": 1, "knuckle": 1}
"""What is painted over what it goes through."""


_WHOLE: Final[tuple[Role, ...]] = ("pin", "washer")
"""What is drawn whole though it is cut along its length (ISO 128-44: pins, washers, bolts)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Face:
    """A face that is cut."""

    member: Member
    outline: Outline
    hollow: Outline | None
    thin_mm: MM


def section_across(
    members: Iterable[Member], where: dict[Body, Placing], x_mm: MM, per_mm: MM
) -> tuple[Path, ...]:
    """Return what the plane x = `x_mm` cuts of members that lie at `where`, box sections with their walls,
    the faces hatched.
    """
    ordered = sorted(members, key=lambda member: _FRONT.get(member.role, 0))
    faces = [face for member in ordered if member.body in where for face in _cut(member, where, x_mm)]
    hatched: dict[str, list[Box]] = {}
    for face in faces:
        if face.member.role not in _WHOLE:
            hatched.setdefault(face.member.key, []).append(face.outline.box)
    look = looks(hatched)
    return tuple(path for face in faces for path in _face(face, look.get(face.member.key), per_mm))


def _cut(member: Member, where: dict[Body, Placing], x_mm: MM) -> Iterator[_Face]:
    for low, high in heights(moved(member.silhouette, where[member.body]), x_mm):
        hollow = _hollow(member, low, high)
        solid = min(member.y1_mm - member.y0_mm, high - low)
        yield _Face(
            member=member,
            outline=rectangle(member.y0_mm, low, member.y1_mm, high),
            hollow=hollow,
            thin_mm=solid if hollow is None else member.piece.section.wall_mm,
        )


def _face(face: _Face, look: Look | None, per_mm: MM) -> Iterator[Path]:
    key, thin = face.member.key, look is not None and face.thin_mm < THIN_MM * per_mm
    yield area(face.outline, "outline", "solid" if thin else fill_of(face.member), key)
    if face.hollow is not None:
        yield area(face.hollow, "outline", "paper", key)
    if look is not None and not thin:
        outlines = (face.outline,) if face.hollow is None else (face.outline, face.hollow)
        yield from hatch(outlines, look, per_mm)


def _hollow(member: Member, low: MM, high: MM) -> Outline | None:
    """Return the inside of a bar of box section where all of its depth is cut."""
    section = member.piece.section
    wall = section.wall_mm
    if member.role not in _LONG or section.kind != "box" or high - low < section.depth_mm * 0.98:
        return None
    _, inside = box_radii_mm(section)
    x0, x1, y0, y1 = member.y0_mm + wall, member.y1_mm - wall, low + wall, high - wall
    r = min(inside, (x1 - x0) / 2, (y1 - y0) / 2)
    if r <= 0:
        return rectangle(x0, y0, x1, y1)
    turn = 0.41421356237309503  # tan(90 degrees / 4)
    corners = (
        (x0 + r, y0, 0.0), (x1 - r, y0, turn), (x1, y0 + r, 0.0), (x1, y1 - r, turn),
        (x1 - r, y1, 0.0), (x0 + r, y1, turn), (x0, y1 - r, 0.0), (x0, y0 + r, turn),
    )  # fmt: skip
    return Outline(corners)


def heights(outline: Outline, x_mm: MM) -> tuple[Interval, ...]:
    """Return where an upright line at x lies inside an outline, from below."""
    points = outline.points(_SAGITTA_MM)
    found = sorted(_crossings((*points, points[0]), x_mm))
    return tuple((low, high) for low, high in zip(found[::2], found[1::2], strict=False) if high - low > 1e-6)


def _crossings(points: tuple[Point, ...], x_mm: MM) -> Iterator[MM]:
    for (x0, z0), (x1, z1) in pairwise(points):
        if (x0 <= x_mm) != (x1 <= x_mm):
            yield z0 + (z1 - z0) * (x_mm - x0) / (x1 - x0)
