"""What else a value can be that is no dimension: a section, a material, a choice, a switch."""

from collections.abc import Iterator
from typing import Any, Final

from rampdraft.explore.ways_out.results import Value
from rampdraft.geometry.sections import properties
from rampdraft.model.catalogue import material_named, materials
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo
from rampdraft.model.fields.record import Choice, MaterialChoice, SectionChoice, Switch
from rampdraft.model.section import Section
from rampdraft.model.sold import sold_sections

MOST_SECTIONS: Final = 4

_GRADED: Final = ("bolt_size", "bolt_class")
"""Choices whose words stand in the order of strength."""


def others(design: Design, info: FieldInfo, before: Any, ratio: float) -> Iterator[tuple[Value, float]]:
    """Yield what else a value that is no dimension can be, with the share by which it changes, the least
    first.

    Sections and materials are ordinary ones, or the user's own, of the same kind that are stronger: a section
    by about the ratio that is wanted.
    """
    match info.record:
        case Switch():
            if not before:
                yield True, 1.0
        case Choice(options=options):
            words = [word for word, _ in options]
            if info.name in _GRADED:
                yield from (
                    (word, (place + 1) / len(words))
                    for place, word in enumerate(words[words.index(before) + 1 :])
                )
            else:
                yield from ((word, 1.0) for word in words if word not in (before, "none"))
        case SectionChoice():
            yield from _stiffer(design, before, ratio)
        case MaterialChoice():
            yield from _stronger(design, before)
        case _:
            return


def _stiffer(design: Design, before: Section, ratio: float) -> list[tuple[Section, float]]:
    now = properties(before)
    rows = [(section, properties(section)) for section in sold_sections(design, before.kind)]
    found = [
        (section, abs(one.area_mm2 / now.area_mm2 - 1))
        for section, one in rows
        if one.elastic_modulus_mm3 >= max(1.01, 0.8 * ratio) * now.elastic_modulus_mm3
    ]
    return sorted(found, key=lambda one: (one[1], one[0].text))[:MOST_SECTIONS]


def _stronger(design: Design, before: str) -> list[tuple[str, float]]:
    now = material_named(design, before)
    strength = now.yield_mpa or now.bending_mpa
    found = [
        (one.name, (one.yield_mpa or one.bending_mpa) / strength - 1)
        for one in (*materials(), *design.materials)
        if one.kind == now.kind and strength and (one.yield_mpa or one.bending_mpa) > strength
    ]
    return sorted(found, key=lambda one: one[1])
