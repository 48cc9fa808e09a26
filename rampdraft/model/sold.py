"""What sizes can be bought: those of the catalogue and those that lie in the user's own shop (`stock`)."""

import re
from collections.abc import Iterator
from typing import Final

from rampdraft.model.catalogue import materials, section_rows
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import BOTH_LEAVES
from rampdraft.model.section import Section, SectionKind
from rampdraft.units import MM

_THICK: Final[dict[str, str]] = {
    "slat_thickness_mm": "slats",
    "upstand_thickness_mm": "upstands",
    "bridge.thickness_mm": "fittings",
    "toe.thickness_mm": "fittings",
    "joining.bracket_plate_mm": "fittings",
}
"""Thickness of boards and plates, with what they are of."""
_WIDE: Final[dict[str, str]] = {"slat_width_mm": "slats"}
_ROUND: Final = (
    "deck_hinge.knuckle_diameter_mm",
    "deck_hinge.pin_diameter_mm",
    "joint.knuckle_diameter_mm",
    "joint.pin_diameter_mm",
)
_OF_LEAF: Final = re.compile(rf"(inner_leaf\.|outer_leaf\.|{BOTH_LEAVES})")


CLEVIS_PINS_MM: Final = (
    6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 27.0, 30.0, 33.0, 36.0, 40.0,
)  # fmt: skip
"""Diameters of clevis pins that a prop may be set by: ISO 2341 (from memory)."""


def sold_sections(design: Design, kind: SectionKind | None = None) -> tuple[Section, ...]:
    """Return the sections that can be bought, of one kind or of all: the user's own first, each once."""
    every = (*(one.section for one in design.stock), *(row.section for row in section_rows()))
    return tuple(dict.fromkeys(one for one in every if kind in (None, one.kind)))


def sold_sizes(design: Design, path: str) -> tuple[MM, ...]:
    """Return the sizes that the value at a path can be bought in, rising; nothing for what is cut or set to
    any size.

    Boards are of timber, plates of metal: flats of the catalogue in any metal, those of the user's shop in
    the metal that the part is of.
    """
    name = _OF_LEAF.sub("", path)
    if name in _ROUND:
        sizes = {one.depth_mm for one in sold_sections(design, "round")}
    elif name == "prop.pin_diameter_mm":
        return CLEVIS_PINS_MM
    elif name == "toe.thickness_mm" and design.toe.kind != "flap":
        return ()  # what a taper leaves is sawn
    elif name in _THICK:
        sizes = {min(one.depth_mm, one.width_mm) for one in _boards(design, _THICK[name])}
    elif name in _WIDE:
        sizes = {max(one.depth_mm, one.width_mm) for one in _boards(design, _WIDE[name])}
    else:
        return ()
    return tuple(sorted(sizes))


def _boards(design: Design, part: str) -> Iterator[Section]:
    """Yield the boards, or the flats, that a part can be made of."""
    material: str = getattr(design.made_of, part)
    known = [one for one in (*design.materials, *materials()) if one.name == material]
    if not known:
        return
    kind = "timber" if known[0].kind == "timber" else "flat"
    yield from (row.section for row in section_rows() if row.section.kind == kind)
    yield from (one.section for one in design.stock if (one.section.kind, one.material) == (kind, material))
