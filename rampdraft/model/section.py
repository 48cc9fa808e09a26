"""A section as it is bought: its kind and the sizes that name it. Properties follow from it in
`geometry.sections`.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from rampdraft.errors import DesignError, Problem
from rampdraft.figures import shortest
from rampdraft.units import MM

SectionKind = Literal["box", "flat", "round", "tube", "timber"]

_SIZES: Final[dict[str, int]] = {"box": 3, "flat": 2, "round": 1, "tube": 2, "timber": 2}
_FORMS: Final = "box 40x20x2, flat 25x6, round 30, tube 30x3 or timber 20x95, depth first, in mm"


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
        sizes = {
            "box": (self.depth_mm, self.width_mm, self.wall_mm),
            "flat": (self.depth_mm, self.width_mm),
            "timber": (self.depth_mm, self.width_mm),
            "round": (self.depth_mm,),
            "tube": (self.depth_mm, self.wall_mm),
        }[self.kind]
        return f"{self.kind} " + "x".join(shortest(size) for size in sizes)


@lru_cache(maxsize=256)  # a design's sections are read again whenever it is looked through
def parse_section(text: str) -> Section:
    """Return the section that `text` names, sizes in mm.

    Raises DesignError when the text names no section that could be bought (a wall thicker than half the
    depth, a size of nothing).
    """
    match = re.fullmatch(r"\s*(box|flat|round|tube|timber)\s+([0-9.]+(?:\s*x\s*[0-9.]+)*)\s*", text)
    if match is None:
        raise _wrong(text, "is no section", f"write it like {_FORMS}")
    kind = match[1]
    try:
        sizes = [float(size) for size in match[2].split("x")]
    except ValueError:
        raise _wrong(text, "has a size that is no number", f"write it like {_FORMS}") from None
    if len(sizes) != _SIZES[kind]:
        raise _wrong(
            text,
            f"needs {_SIZES[kind]} size{'s' if _SIZES[kind] > 1 else ''} for a {kind}, not {len(sizes)}",
            f"write it like {_FORMS}",
        )
    if not all(0.5 <= size <= 1000 for size in sizes):
        raise _wrong(text, "has a size outside 0.5 to 1000 mm", "sizes are in mm")
    depth, width, wall = {
        "box": lambda: (sizes[0], sizes[1], sizes[2]),
        "flat": lambda: (sizes[0], sizes[1], 0.0),
        "timber": lambda: (sizes[0], sizes[1], 0.0),
        "round": lambda: (sizes[0], sizes[0], 0.0),
        "tube": lambda: (sizes[0], sizes[0], sizes[1]),
    }[kind]()
    if kind in ("box", "tube") and wall * 2 >= min(depth, width):
        raise _wrong(
            text, "has walls that meet in the middle", "the wall must be less than half the smaller side"
        )
    return Section(kind=kind, depth_mm=depth, width_mm=width, wall_mm=wall)  # pyright: ignore[reportArgumentType]


def _wrong(text: str, rule: str, way_out: str) -> DesignError:
    return DesignError(
        f"'{text}' {rule}", (Problem(key="section", value=repr(text), rule=rule, way_out=way_out),)
    )
