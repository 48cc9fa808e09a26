"""Ordinary places by one figure: what ground they are, and that they are known again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.model.design import Site
from rampdraft.model.presets import NAMES, Preset, PresetKind, preset_of, site_as, usual_site


@pytest.mark.parametrize("kind", sorted(NAMES))
@given(value=st.integers(-1200, 1200).filter(bool))
def test_a_place_is_known_again_with_its_figure(kind: PresetKind, value: int) -> None:
    figure = 0.0 if kind == "level" else value / 100 if kind == "fall" else float(value)
    site = site_as(Preset(kind, figure), usual_site(kind))
    assert preset_of(site) == Preset(kind, figure)


def test_ground_that_falls_three_per_cent_is_90_mm_down_after_three_metres() -> None:
    site = site_as(Preset("fall", 3.0), usual_site("level"))
    (x0, z0), (x1, z1) = site.ground_mm
    assert (x0, z0) == (0, 0)
    assert z0 + (z1 - z0) * 3000 / (x1 - x0) == pytest.approx(-90)


@pytest.mark.parametrize("kind", ["kerb", "platform"])
def test_a_step_stays_where_it_is_when_its_height_is_another(kind: PresetKind) -> None:
    ground = ((0.0, 0.0), (250.0, 0.0), (250.0, 120.0), (5000.0, 120.0))
    before = Site(name="Here", kind="kerb" if kind == "kerb" else "platform", ground_mm=ground)
    after = site_as(Preset(kind, 160.0), before)
    assert after.ground_mm == ((0.0, 0.0), (250.0, 0.0), (250.0, 160.0), (5000.0, 160.0))


def test_ground_of_ones_own_stays_as_it_is() -> None:
    own = Site(name="Bank", kind="ground", ground_mm=((0, 0), (300, 50), (900, -80)))
    assert preset_of(own) == Preset("own")
    assert site_as(Preset("own"), own) is own
