"""The catalogue: every row can be used, and has a source."""

from dataclasses import replace

import pytest

from rampdraft.errors import DesignError
from rampdraft.model.catalogue import material_named, materials, section_rows, survey_classes
from rampdraft.model.design import Material
from rampdraft.model.section import parse_section
from rampdraft.model.starter import starter_design


def test_every_row_has_a_source():
    rows = (*materials(), *section_rows(), *survey_classes())
    assert rows
    assert all(row.source.strip() for row in rows)


def test_no_row_stands_twice():
    for names in ([row.name for row in materials()], [row.section.text for row in section_rows()]):
        assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("name", "density"),
    [
        ("steel S235", 7850),  # EN 10219-2 annex B: mass per metre = 0.785 x area in cm2
        ("aluminium 6063-T6", 2700),  # EN 1999-1-1, 3.2.5
        ("timber C16", 370),  # EN 338:2016 table 1, mean density
        ("timber C24", 420),  # EN 338:2016 table 1, mean density
    ],
)
def test_published_densities(name: str, density: float):
    assert material_named(starter_design(), name).density_kg_m3 == density


def test_published_masses_of_hollow_sections():
    # EN 10219-2: 20x20x2 1.05 kg/m, 40x40x3 3.30 kg/m
    masses = {row.section.text: row.mass_kg_m for row in section_rows()}
    assert masses["box 20x20x2"] == 1.05
    assert masses["box 40x40x3"] == 3.30


def test_surveyed_widths():
    # Occupied widths of a survey (secondary source): manual 786, powered 827, scooter 837 mm
    assert {row.kind: row.width_mm for row in survey_classes()} == {
        "manual wheelchair": 786,
        "powered wheelchair": 827,
        "scooter": 837,
    }


def test_a_design_s_own_material_goes_before_the_catalogue():
    own = Material(name="steel S235", kind="steel", density_kg_m3=7900, source="weighed")
    assert material_named(replace(starter_design(), materials=(own,)), "steel S235") is own


def test_an_unknown_material_is_refused_with_the_nearest_name():
    with pytest.raises(DesignError, match="did you mean 'steel S235'") as caught:
        material_named(starter_design(), "stel S235")
    assert caught.value.problems[0].value == "'stel S235'"


def test_an_unlike_material_is_refused_with_the_list():
    with pytest.raises(DesignError, match=r"use one of: .*timber C24"):
        material_named(starter_design(), "zzz")


def test_sections_are_written_as_they_are_read():
    assert all(parse_section(row.section.text) == row.section for row in section_rows())
