"""What can be named without being described: materials, ordinary sections and the widths of wheeled users,
with their sources.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from rampdraft.errors import DesignError, Problem
from rampdraft.model.design import BoltSize, Design, Material
from rampdraft.model.fields.values import did_you_mean
from rampdraft.model.section import Section, parse_section
from rampdraft.units import MM, MM2


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyClass:
    """How wide a class of wheeled user was found to be with the person in it."""

    kind: str
    """A class of `WheeledUser.kind`."""
    width_mm: MM
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionRow:
    """A section that is commonly sold."""

    section: Section
    mass_kg_m: float | None
    """Published mass of a metre in steel, kg/m; None where none was read. The program computes its own."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltRow:
    """A size of bolt with coarse thread."""

    size: BoltSize
    diameter_mm: MM
    pitch_mm: MM
    area_mm2: MM2
    """Published stress area."""
    source: str


@cache
def bolts() -> tuple[BoltRow, ...]:
    """Return the bolts of the catalogue."""
    return tuple(BoltRow(**row) for row in rows_of("bolts", "bolt"))


@cache
def materials() -> tuple[Material, ...]:
    """Return the materials of the catalogue."""
    return tuple(Material(**row) for row in rows_of("materials", "material"))


def material_named(design: Design, name: str) -> Material:
    """Return the material `name`: the design's own rows first, then the catalogue's.

    Raises DesignError, with the nearest name, when neither has it.
    """
    known = (*design.materials, *materials())
    for material in known:
        if material.name == name:
            return material
    rule, way_out = "is no known material", did_you_mean(name, [one.name for one in known])
    problem = Problem(key="material", value=repr(name), rule=rule, way_out=way_out)
    raise DesignError(f"The material '{name}' {rule}.", (problem,))


@cache
def survey_classes() -> tuple[SurveyClass, ...]:
    """Return the surveyed width of each class of wheeled user that was surveyed."""
    return tuple(SurveyClass(**row) for row in rows_of("survey", "class"))


@cache
def section_rows() -> tuple[SectionRow, ...]:
    """Return ordinary sections, for a list to choose from."""
    return tuple(
        SectionRow(
            section=parse_section(row["section"]), mass_kg_m=row.get("mass_kg_m"), source=row["source"]
        )
        for row in rows_of("sections", "section")
    )


def rows_of(file: str, table: str) -> list[dict[str, Any]]:
    """Return the rows of a table of the catalogue's data."""
    text = files("rampdraft.model").joinpath("data", f"{file}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)[table]
