"""Sizes that are sold: a board or a plate is bought by its thickness, and no other is proposed."""

from typing import Final

from rampdraft.model.catalogue import material_named, section_rows
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_of
from rampdraft.units import MM

PLATES_MM: Final = (1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0)
"""Thicknesses of sheet, plate and flat bar that are commonly sold; common practice."""
BOARDS_MM: Final = (32.0, 38.0, 45.0, 50.0, 60.0)
"""Thicknesses of boards and planks besides those of the catalogue; common practice."""
_MADE_OF: Final = {
    "slat_thickness_mm": "made_of.slats",
    "upstand_thickness_mm": "made_of.upstands",
    "bridge.thickness_mm": "made_of.fittings",
    "toe.thickness_mm": "made_of.fittings",
}
"""Of what the thickness is, by the end of its path."""


def sold_mm(design: Design, path: str) -> tuple[MM, ...]:
    """Return the sizes of a value that can be bought, or lie among the stock, rising; nothing where it is cut
    to any size: a length, or what a taper leaves of its rails.
    """
    made_of = next((of for end, of in _MADE_OF.items() if path.endswith(end)), None)
    if made_of is None or (path.startswith("toe.") and design.toe.kind != "flap"):
        return ()
    material = material_named(design, value_of(design, made_of))
    sizes = {
        min(row.section.depth_mm, row.section.width_mm)
        for row in design.stock
        if row.material == material.name and row.section.kind in ("flat", "timber")
    }
    if material.kind == "timber":
        sizes.update(BOARDS_MM)
        sizes.update(row.section.depth_mm for row in section_rows() if row.section.kind == "timber")
    elif material.kind in ("steel", "aluminium"):
        sizes.update(PLATES_MM)
    return tuple(sorted(sizes))


def next_sold(design: Design, path: str, value: MM, sign: int) -> MM | None:
    """Return the first size from `value` on, up or down by `sign`, that can be bought; None where none is."""
    sizes = sold_mm(design, path)
    if not sizes:
        return value
    beyond = [size for size in sizes if (size - value) * sign >= -1e-9]
    return (min if sign > 0 else max)(beyond, default=None)
