"""What of a design is the survey: where it is used, by whom, what it can be made of; the rest is the ramp."""

from dataclasses import replace
from typing import Final

from rampdraft.model.catalogue import materials
from rampdraft.model.design import Design, MadeOf, Material, MaterialKind, Stock, Wishes
from rampdraft.model.fields.paths import fields_of
from rampdraft.model.starter import starter_design

SURVEYED: Final = (
    "about", "carrier", "use", "made_of", "workshop", "sites", "hands", "road", "obstacles", "materials",
    "stock", "carrier_body", "supports", "wishes",
)  # fmt: skip
"""Groups of a design that belong to the survey."""
OPTIONAL: Final = ("made_of", "workshop")
"""Those that a design needs and a survey may leave out."""
DESIGNED: Final = tuple(info.name for info in fields_of(Design) if info.name not in SURVEYED)
"""All other groups: the ramp itself."""

_METALS: Final[dict[MaterialKind, str]] = {"steel": "steel S355", "aluminium": "aluminium 6082-T6"}
"""What is taken where stock holds none."""


def survey_of(design: Design) -> Design:
    """Return the survey in a design: its own ramp put away for the one that a new document begins with."""
    return replace(starter_design(), **{name: getattr(design, name) for name in SURVEYED})


def usual_materials(wishes: Wishes, stock: tuple[Stock, ...], own: tuple[Material, ...]) -> MadeOf:
    """Return what a ramp is made of where the survey does not say: rails of what the shop welds, slats of
    boards where some lie in stock, else of aluminium.
    """
    kinds = {one.name: one.kind for one in (*materials(), *own)}

    def in_stock(kind: MaterialKind, section: str) -> str:
        found = (row.material for row in stock if row.section.kind == section)
        return next((name for name in found if kinds.get(name) == kind), "")

    metal: MaterialKind = "aluminium" if wishes.welds == "aluminium" else "steel"
    rails = in_stock(metal, "box") or _METALS[metal]
    light = _METALS["aluminium"]
    slats = in_stock("timber", "timber") or light
    return MadeOf(rails=rails, cross_members=rails, slats=slats, upstands=light, fittings=rails)
