"""What is kept beside a ramp, as thin lines over its picture: long dashes and two dots, as ISO 128-2 has it
for other positions.
"""

from dataclasses import replace

from rampdraft.drawing.ink import Path, Picture
from rampdraft.geometry.members.member import Assembly, Role

SIDE: frozenset[Role] = frozenset(("rail", "edge upstand", "toe flap", "bridge plate", "prop", "prop foot"))
"""What tells one ramp from another from the side; slats and knuckles would only blur it."""
ABOVE: frozenset[Role] = SIDE.union(frozenset[Role](("slat", "stop bar")))


def ghosted(picture: Picture, other: Picture, assembly: Assembly, roles: frozenset[Role]) -> Picture:
    """Return a picture with the outlines of another one's members over it, as far as they are elsewhere.
    `assembly` is that of the other one; the box has room for both.
    """
    keys = {member.key for member in assembly.members if member.role in roles}
    there = {mark.vertices for mark in picture.marks if isinstance(mark, Path)}
    marks = [
        mark
        for mark in other.marks
        if isinstance(mark, Path) and mark.owner in keys and mark.vertices not in there
    ]
    return laid_over(picture, replace(other, marks=tuple(marks)))


def laid_over(picture: Picture, other: Picture) -> Picture:
    """Return a picture with the lines of another one over it, as a ghost; the box has room for both."""
    lines = [
        replace(mark, pen="other", fill="none", owner="") for mark in other.marks if isinstance(mark, Path)
    ]
    if not lines:
        return picture
    (a, b, c, d), (e, f, g, h) = picture.box, other.box
    box = (min(a, e), min(b, f), max(c, g), max(d, h))
    return replace(picture, marks=(*picture.marks, *dict.fromkeys(lines)), box=box)
