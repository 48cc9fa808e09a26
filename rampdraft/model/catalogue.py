"""What can be named without being described: materials, ordinary sections and the widths of wheeled users,
with their sources.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from rampdraft.errors import DesignError, Problem
from rampdraft.model.design import BoltSize, Design, Material, MaterialKind
from rampdraft.model.fields.values import did_you_mean
from rampdraft.model.section import Section, parse_section
from rampdraft.units import MM, MM2
from rampdraft.words.figures import shortest
from rampdraft.words.say import say


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
    head_mm: MM
    """Height of the head."""
    washer_mm: MM
    """Across its washer."""
    washer_thick_mm: MM
    nut_mm: MM
    """Height of a locking nut."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewRow:
    """A size of screw, with the hole that it goes through and the one that it is screwed into."""

    into: Literal["metal", "timber"]
    diameter_mm: MM
    clearance_mm: MM
    pilot_mm: MM
    """Drilled before it is tapped, or for the thread of a wood screw."""

    @property
    def size(self) -> str:
        """Return what it is called: `M5`, or `5` of a wood screw."""
        return f"{'M' if self.into == 'metal' else ''}{shortest(self.diameter_mm)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitPinRow:
    """A size of split pin."""

    hole_mm: MM
    up_to_mm: MM
    """Diameter of a pin that it serves."""


@cache
def screws(into: Literal["metal", "timber"]) -> tuple[ScrewRow, ...]:
    """Return the screws of the catalogue, rising."""
    return tuple(row for one in rows_of("fixings", "screw") if (row := ScrewRow(**one)).into == into)


def screw_through(hole_mm: MM, into: MaterialKind) -> ScrewRow:
    """Return the largest screw that a hole gives its clearance to; the smallest where it does to none."""
    rows = screws("timber" if into == "timber" else "metal")
    return max((row for row in rows if row.clearance_mm <= hole_mm), default=rows[0], key=_across)


def _across(row: ScrewRow) -> MM:
    return row.diameter_mm


@cache
def split_pin(pin_mm: MM) -> SplitPinRow:
    """Return the split pin for a pin of so much diameter: ISO 1234."""
    rows = [SplitPinRow(**row) for row in rows_of("fixings", "split_pin")]
    return next((row for row in rows if pin_mm <= row.up_to_mm), rows[-1])


def bolt_hole_mm(size: BoltSize) -> MM:
    """Return the hole for a bolt: 1 mm wider, 2 mm from M16 on.

    EN 1090-2, table 11, normal round holes (from memory).
    """
    diameter = bolt_row(size).diameter_mm
    return diameter + (2.0 if diameter >= 16 else 1.0)


@cache
def bolts() -> tuple[BoltRow, ...]:
    """Return the bolts of the catalogue."""
    return tuple(BoltRow(**row) for row in rows_of("bolts", "bolt"))


def bolt_row(size: BoltSize) -> BoltRow:
    """Return the bolt of a size."""
    return next(bolt for bolt in bolts() if bolt.size == size)


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
    rule, way_out = say("is no known material"), did_you_mean(name, [one.name for one in known])
    problem = Problem(key="material", value=repr(name), rule=rule, way_out=way_out)
    raise DesignError(say("The material '{name}' is no known material.", name=name), (problem,))


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
