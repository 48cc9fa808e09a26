"""A step of the assembly, seen from above: what comes on in full, what is there already as a ghost, part
numbers beside it.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from rampdraft.drawing.callouts import Callout, called_out
from rampdraft.drawing.clip import Box, cut
from rampdraft.drawing.ink import Path, Picture, area
from rampdraft.drawing.side import fill_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import Pose, linkage, moved
from rampdraft.geometry.members.member import Body, Member
from rampdraft.geometry.outline import Outline, rectangle
from rampdraft.shop.order import Step
from rampdraft.units import MM

_BESIDE_MM: Final = 40.0
"""Shown around what comes on."""
_ACROSS: Final = 1.3
"""A window is so many times as long across as along, at most."""
_SAGITTA_MM: Final = 0.1
_ON_ITS_SIDE: Final[tuple[Body, ...]] = ("loose",)
"""What is made apart from the ramp is seen from the side."""


def step_view(evaluation: Evaluation, step: Step, done: frozenset[str], per_mm: MM) -> Picture | None:
    """Return a step's picture; `done` are the keys of the members of the steps before. None where nothing
    comes on.
    """
    members = [*evaluation.assembly.members, *evaluation.brackets]
    fresh = [member for member in members if member.key in step.members]
    if not fresh:
        return None
    shapes = {member.key: _seen(evaluation, member) for member in members}
    box = _enough(_around([shapes[member.key].box for member in fresh]))
    loose = fresh[0].body in _ON_ITS_SIDE
    before = [one for one in members if one.key in done and (one.body in _ON_ITS_SIDE) == loose]
    marks = [
        part
        for member, new in (*((one, False) for one in before), *((one, True) for one in _from_below(fresh)))
        for part in cut(_drawn(member, shapes[member.key], new=new), box, _SAGITTA_MM)
    ]
    beside, whole = called_out(tuple(_numbers(evaluation, step, marks, box)), box, per_mm)
    return Picture(marks=(*marks, *beside), box=whole, title=step.kind)


def _drawn(member: Member, shape: Outline, *, new: bool) -> Path:
    return area(
        shape, "thin" if new else "ghost", fill_of(member) if new else "none", member.key if new else ""
    )


def _from_below(members: Sequence[Member]) -> list[Member]:
    return sorted(members, key=lambda member: member.silhouette.box[3])


def _seen(evaluation: Evaluation, member: Member) -> Outline:
    """Return what a member covers seen from above, the ramp straight out from the deck; of what is made
    apart, seen from the side.
    """
    if member.body in _ON_ITS_SIDE:
        return member.silhouette
    where = linkage(evaluation.design).placings(Pose(0.0, 0.0))[member.body]
    x0, _, x1, _ = moved(member.silhouette, where).box
    return rectangle(x0, member.y0_mm, x1, member.y1_mm)


def _around(boxes: Sequence[Box]) -> Box:
    return (
        min(box[0] for box in boxes) - _BESIDE_MM,
        min(box[1] for box in boxes) - _BESIDE_MM,
        max(box[2] for box in boxes) + _BESIDE_MM,
        max(box[3] for box in boxes) + _BESIDE_MM,
    )


def _enough(box: Box) -> Box:
    """Return a window, cut down where it is far longer across than along: the rest is alike."""
    x0, y0, x1, y1 = box
    return x0, max(y0, y1 - _ACROSS * (x1 - x0)), x1, y1


def _numbers(evaluation: Evaluation, step: Step, marks: Sequence[Path], window: Box) -> Iterator[Callout]:
    """Yield the number of each part that comes on, with how many of it."""
    at: dict[str, Path] = {mark.owner: mark for mark in marks if mark.owner}
    counts = {count.number: count.quantity for count in step.parts}
    middle = (window[1] + window[3]) / 2
    for part in evaluation.parts:
        seen = [at[key] for key in part.members if key in at and key in step.members]
        if seen:
            centres = [_centre(mark) for mark in seen]
            tip = max(centres, key=lambda centre: (abs(centre[1] - middle), centre))
            yield Callout(kind="part", text=f"{counts.get(part.number, 0):g} × {part.number}", tip=tip)


def _centre(mark: Path) -> tuple[MM, MM]:
    xs, ys = [x for x, _, _ in mark.vertices], [y for _, y, _ in mark.vertices]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
