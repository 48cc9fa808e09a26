"""A kept ramp as thin lines over the one shown."""

from dataclasses import replace

import pytest

from rampdraft.drawing.from_end import from_end
from rampdraft.drawing.ghost import SIDE, ghosted, laid_over
from rampdraft.drawing.ink import Label, Path
from rampdraft.drawing.side import standing_view
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.scene import Solid, Stand
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths


@pytest.fixture(scope="module")
def kept() -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    return evaluate(load_design(path), path.parent)


def test_the_ghost_of_the_same_ramp_is_nothing(kept: Evaluation):
    picture = standing_view(kept, kept.sites[0], 12.0)
    assert ghosted(picture, standing_view(kept, kept.sites[0], 12.0), kept.assembly, SIDE) == picture


def test_the_ghost_has_the_outlines_of_the_kept_members_and_room_for_them(kept: Evaluation):
    now = kept.changed("outer_leaf.length_mm", kept.design.outer_leaf.length_mm - 200.0)
    picture, other = standing_view(now, now.sites[0], 12.0), standing_view(kept, kept.sites[0], 12.0)
    found = ghosted(picture, other, kept.assembly, SIDE)
    added = found.marks[len(picture.marks) :]
    assert found.marks[: len(picture.marks)] == picture.marks
    rails = {mark.vertices for mark in other.marks if isinstance(mark, Path) and "outer rail" in mark.owner}
    assert rails & {mark.vertices for mark in added if isinstance(mark, Path)}
    assert not [mark for mark in added if isinstance(mark, Label)]
    assert {(mark.pen, mark.fill, mark.owner) for mark in added if isinstance(mark, Path)} == {
        ("other", "none", "")
    }
    assert found.box[2] >= other.box[2]


def test_a_solid_s_ghost_is_a_box_about_each_leaf(kept: Evaluation):
    """Seen from the side the box is as high as rail, slat and upstand, and as long as the leaf's members."""
    pose = replace(kept.sites[0].pose, inner_rad=0.0, fold_rad=0.0)
    lines = Solid(kept).outline(Stand(pose=pose), Camera(-90.0, 0.0)).marks
    leaf = kept.design.inner_leaf
    high = leaf.rail_section.depth_mm + leaf.slat_thickness_mm + leaf.upstand_height_mm
    inner = next(mark for mark in lines if isinstance(mark, Path))
    ups = [y for _, y, _ in inner.vertices]
    assert max(ups) - min(ups) == pytest.approx(high, abs=0.5)


def test_the_end_view_measures_the_opening_and_the_deck(kept: Evaluation):
    site = kept.sites[0]
    solid, stand = Solid(kept), Stand(pose=site.pose, drop_mm=site.drop_mm)
    picture = from_end(kept.design, solid, stand, per_mm=8.0)
    words = {mark.text: mark.owner for mark in picture.marks if isinstance(mark, Label)}
    carrier = kept.design.carrier
    assert words[f"O {carrier.opening_width_mm:g}"] == "carrier.opening_width_mm"
    assert words[f"H {carrier.deck_height_mm:g}"] == "carrier.deck_height_mm"
    rails = [mark for mark in picture.marks if isinstance(mark, Path) and mark.owner == "inner slat 1"]
    across = [x for mark in rails for x, _, _ in mark.vertices]
    assert max(across) - min(across) == pytest.approx(kept.design.inner_leaf.width_mm)
    assert laid_over(picture, replace(picture, marks=())) == picture
