"""A section as it is bought: its kind and the sizes that name it. Properties follow from it in
`geometry.sections`.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from rampdraft.errors import DesignError, Problem
from rampdraft.units import MM
from rampdraft.words.figures import shortest
from rampdraft.words.say import say

SectionKind = Literal["box", "flat", "round", "tube", "timber"]

_SIZES: Final[dict[str, tuple[str, ...]]] = {
    "box": ("depth_mm", "width_mm", "wall_mm"),
    "flat": ("depth_mm", "width_mm"),
    "round": ("depth_mm",),
    "tube": ("depth_mm", "wall_mm"),
    "timber": ("depth_mm", "width_mm"),
}
"""What the sizes that name a section are, in order."""
_LIKE_THIS: Final = (
    "write it like box 40x20x2, flat 25x6, round 30, tube 30x3 or timber 20x95, depth first, in mm"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A bar's cross section. `depth_mm` stands upright in use, `width_mm` lies across; a round has both
    alike.
    """

    kind: SectionKind
    depth_mm: MM
    width_mm: MM
    wall_mm: MM = 0.0
    """Wall of a hollow section; 0 for a solid one."""

    @property
    def text(self) -> str:
        """Return the section as it is written in a file: `box 40x20x2`."""
        return f"{self.kind} " + "x".join(shortest(getattr(self, size)) for size in _SIZES[self.kind])


@lru_cache(maxsize=256)  # a design's sections are read again whenever it is looked through
def parse_section(text: str) -> Section:
    """Return the section that `text` names, sizes in mm.

    Raises DesignError when the text names no section that could be bought (a wall thicker than half the
    depth, a size of nothing).
    """
    match = re.fullmatch(r"\s*(box|flat|round|tube|timber)\s+([0-9.]+(?:\s*x\s*[0-9.]+)*)\s*", text)
    if match is None:
        raise _wrong(text, say("is no section"), say(_LIKE_THIS))
    kind = match[1]
    try:
        sizes = [float(size) for size in match[2].split("x")]
    except ValueError:
        raise _wrong(text, say("has a size that is no number"), say(_LIKE_THIS)) from None
    wanted = len(_SIZES[kind])
    if len(sizes) != wanted:
        needs = say(
            "needs {wanted} sizes for a {kind}, not {given}"
            if wanted > 1
            else "needs {wanted} size for a {kind}, not {given}",
            wanted=wanted,
            kind=kind,
            given=len(sizes),
        )
        raise _wrong(text, needs, say(_LIKE_THIS))
    if not all(0.5 <= size <= 1000 for size in sizes):
        raise _wrong(text, say("has a size outside 0.5 to 1000 mm"), say("sizes are in mm"))
    named = {"width_mm": sizes[0], **dict(zip(_SIZES[kind], sizes, strict=True))}
    section = Section(kind=kind, **named)  # pyright: ignore[reportArgumentType]
    if section.wall_mm and section.wall_mm * 2 >= min(section.depth_mm, section.width_mm):
        raise _wrong(
            text,
            say("has walls that meet in the middle"),
            say("the wall must be less than half the smaller side"),
        )
    return section


def _wrong(text: str, rule: str, way_out: str) -> DesignError:
    return DesignError(
        f"'{text}' {rule}", (Problem(key="section", value=repr(text), rule=rule, way_out=way_out),)
    )
