"""What can be had: sections of the stock, those that are commonly sold, and plate; the lightest first."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from typing import Final

from rampdraft.geometry.members.brackets import stub_room_mm
from rampdraft.geometry.sections import properties
from rampdraft.model.catalogue import material_named, section_rows
from rampdraft.model.design import Design, MaterialKind, Stock
from rampdraft.model.section import Section
from rampdraft.units import MM

PLATES_MM: Final = (2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0)
"""Thicknesses of sheet and plate that are commonly sold; common practice."""
CHUCK_MM: Final = 13.0
"""Thickest drill of a bench drill: what bores a knuckle where there is no lathe; common practice."""
BARS_MM: Final = (1000.0, 2000.0, 3000.0, 4000.0, 6000.0)
"""Lengths that bars are sold in; common practice."""
_USUAL_STUBS_MM: Final = (
    (60.0, 40.0, 4.0), (50.0, 30.0, 3.0), (40.0, 20.0, 3.0), (50.0, 30.0, 4.0), (60.0, 40.0, 5.0),
    (80.0, 40.0, 5.0), (80.0, 60.0, 5.0), (100.0, 50.0, 6.0), (100.0, 60.0, 6.0),
)  # fmt: skip
"""Hollow sections that brackets' stubs are made of, the first choice first; common practice."""
_USUAL_STUBS: Final = tuple(
    Section(kind="box", depth_mm=depth, width_mm=width, wall_mm=wall)
    for depth, width, wall in _USUAL_STUBS_MM
)
SLAT_WIDTHS_MM: Final = (40.0, 160.0)
"""Narrower takes too many pieces, wider bends too much under a wheel."""


def boxes(design: Design, material: str) -> tuple[Section, ...]:
    """Return the hollow sections that can be had in a material."""
    return _had(design.stock, design.wishes.buys, material, "box")


def stubs(design: Design) -> tuple[Section, ...]:
    """Return what the stubs of brackets can be made of, the usual ones last: no wider than the room beside
    the rails.
    """
    found = (*boxes(design, design.made_of.fittings), *_USUAL_STUBS)
    return tuple(one for one in found if one.width_mm <= stub_room_mm(design))


def first_stub(design: Design) -> Section:
    """Return what the stubs of brackets are made of to begin with."""
    fitting = (one for one in _USUAL_STUBS if one.width_mm <= stub_room_mm(design))
    return next(fitting, design.joining.bracket_section)


def rounds(design: Design, material: str) -> tuple[Section, ...]:
    """Return the round bars that can be had in a material."""
    return _had(design.stock, design.wishes.buys, material, "round")


def slats(design: Design) -> tuple[Section, ...]:
    """Return the boards and bars that can lie across the rails, lying flat, the thinnest first."""
    low, high = SLAT_WIDTHS_MM
    kind = "timber" if _kind(design, design.made_of.slats) == "timber" else "flat"
    found = _had(design.stock, design.wishes.buys, design.made_of.slats, kind)
    flat = {_lying(one) for one in found}
    kept = (one for one in flat if low <= one.width_mm <= high and one.depth_mm >= 3)
    return tuple(sorted(kept, key=lambda one: (one.depth_mm, -one.width_mm)))


def guards(design: Design) -> tuple[Section, ...]:
    """Return the bars that can stand along the edges, upright, the lightest first."""
    kind = "timber" if _kind(design, design.made_of.upstands) == "timber" else "flat"
    found = _had(design.stock, design.wishes.buys, design.made_of.upstands, kind)
    upright = {_standing(one) for one in found if one.depth_mm != one.width_mm}
    return tuple(sorted(upright, key=_weight))


def flats(design: Design, material: str) -> tuple[Section, ...]:
    """Return the flat bars that can be had in a material, upright."""
    return tuple(sorted({_standing(one) for one in _had(design.stock, design.wishes.buys, material, "flat")},
                        key=_weight))  # fmt: skip


def plates_mm(design: Design, material: str) -> tuple[MM, ...]:
    """Return the thicknesses of plate that can be had: all that are sold, else those of the stock's flats."""
    if design.wishes.buys:
        return PLATES_MM
    return tuple(sorted({min(one.depth_mm, one.width_mm) for one in flats(design, material)}))


def bores_mm(design: Design) -> MM:
    """Return the widest hole that the shop makes in a knuckle."""
    return float("inf") if design.wishes.lathe else CHUCK_MM


def price_of(design: Design, material: str) -> float:
    """Return what a kg of a material costs; plastic costs what timber does."""
    wishes = design.wishes
    prices: dict[MaterialKind, float] = {
        "steel": wishes.steel_price,
        "aluminium": wishes.aluminium_price,
        "timber": wishes.timber_price,
        "plastic": wishes.timber_price,
    }
    return prices[_kind(design, material)]


def _kind(design: Design, material: str) -> MaterialKind:
    return material_named(design, material).kind


@lru_cache(maxsize=64)
def _had(stock: tuple[Stock, ...], buys: bool, material: str, kind: str) -> tuple[Section, ...]:
    found = {row.section for row in stock if row.material == material and row.section.kind == kind}
    if buys:
        found |= {row.section for row in section_rows() if row.section.kind == kind}
    return tuple(sorted(_unlike(found), key=_weight))


def _unlike(sections: Iterable[Section]) -> set[Section]:
    return set(sections)


def _weight(section: Section) -> tuple[float, str]:
    return round(properties(section).area_mm2, 6), section.text


def _lying(section: Section) -> Section:
    low, high = sorted((section.depth_mm, section.width_mm))
    return replace(section, depth_mm=low, width_mm=high)


def _standing(section: Section) -> Section:
    low, high = sorted((section.depth_mm, section.width_mm))
    return replace(section, depth_mm=high, width_mm=low)
