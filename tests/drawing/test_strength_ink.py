"""The strength picture: curves can be read off its figures, the load stands where it bends most."""

from dataclasses import replace
from functools import cache
from itertools import combinations

import numpy as np
import pytest
from inked import paths_of, texts
from timber_ramp import timber_ramp

from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.drawing.ink import Label, Path, Picture
from rampdraft.drawing.loaded_ramp import axle_places_mm
from rampdraft.drawing.strength import LEAST_MM, SIZE_MM, loads_of_use, strength_picture, worst_load
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.loading.loads import Rolling
from rampdraft.model.design import Material, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.strength.members import RailLine, rail_lines
from rampdraft.units import G_M_S2

ALL_RULES = tuple(sorted(rule_set.key for rule_set in builtin_rule_sets()))


@cache
def ramp() -> Evaluation:
    return evaluate(timber_ramp())


@cache
def ruled() -> Evaluation:
    return evaluate(with_value(timber_ramp(), "use.rule_sets", ALL_RULES))


@cache
def one_axle() -> Evaluation:
    """Return the ramp with one user of one axle and no attendant, without bumps: PL / 4 by hand."""
    user = WheeledUser(
        name="Barrow",
        kind="barrow",
        mass_kg=200,
        width_mm=600,
        wheelbase_mm=100,
        front_share_percent=100,
        front_track_mm=0,
        attendant_kg=0,
    )
    design = timber_ramp()
    return evaluate(
        replace(design, use=replace(design.use, users=(user,), bump_factor=1.0, rated_load_kg=200))
    )


def lines_of(evaluation: Evaluation, load: int) -> tuple[RailLine, ...]:
    return rail_lines(evaluation.design, evaluation.carried, evaluation.strengths, load)


def labels(picture: Picture) -> list[Label]:
    return [mark for mark in picture.marks if isinstance(mark, Label)]


def reader(picture: Picture, words: str):
    """Return the way from a height to a value in the chart with this title, by the figures along its side as
    a person reads.
    """
    title = next(mark for mark in labels(picture) if mark.text.startswith(words))
    beside = [
        mark
        for mark in labels(picture)
        if mark.anchor == "right" and not mark.boxed and mark.at[1] < title.at[1]
    ]
    # The baseline of a figure lies a little under its tick; the two nearest below the title are this chart's.
    figures = [(mark.at[1] + 0.95, float(mark.text.replace("−", "-"))) for mark in beside]
    figures = sorted(figures, reverse=True)[:2]
    (y0, a), (y1, b) = figures
    return lambda y: a + (y - y0) / (y1 - y0) * (b - a)


def place_of(picture: Picture):
    """Return the way from a place across to one along the ramp, by the figures along the last chart."""
    lowest = min(mark.at[1] for mark in labels(picture) if mark.text.isdigit())
    figures = [
        (mark.at[0], float(mark.text))
        for mark in labels(picture)
        if mark.text.isdigit() and mark.at[1] == lowest
    ]
    (x0, a), (x1, b) = figures[0], figures[-1]
    return lambda x: a + (x - x0) / (x1 - x0) * (b - a)


def curves(picture: Picture, owner: str) -> list[Path]:
    return [
        mark
        for mark in paths_of(picture, owner)
        if not mark.closed and mark.pen == "outline" and len(mark.vertices) > 5
    ]


def test_one_wheel_bends_most_in_the_middle_with_p_l_over_4():
    evaluation = one_axle()
    length = evaluation.carried.spans.length_mm
    picture = strength_picture(evaluation)
    (wheel,) = [
        mark
        for mark in picture.marks
        if isinstance(mark, Path)
        and len(mark.vertices) == 2
        and mark.vertices[0][2]
        and mark.pen == "outline"
    ]
    middle = (wheel.vertices[0][0] + wheel.vertices[1][0]) / 2
    # On the station that is nearest to the middle: the joint.
    assert place_of(picture)(middle) == pytest.approx(evaluation.design.inner_leaf.length_mm, rel=0.01)
    assert f"{200 * G_M_S2:.0f} N" in texts(picture)
    # With nothing that shares, the middle rail has all of a wheel that runs over it, 1.5 P a b / L, and its
    # own weight.
    bare = evaluation.design
    for leaf in ("inner_leaf", "outer_leaf"):
        bare = with_value(bare, f"{leaf}.cross_positions_mm", ())
    alone = evaluate(bare)
    forces, joint = alone.carried.inner, bare.inner_leaf.length_mm
    own = 1.35 * forces.self_weight_moment_nmm[1, -1]
    rail, _ = lines_of(alone, worst_load(alone))
    assert rail.moment_nmm[-1] == pytest.approx(
        own + 1.5 * 200 * G_M_S2 * joint * (length - joint) / length, rel=0.01
    )


@pytest.mark.parametrize("size", [LEAST_MM, SIZE_MM, (300.0, 210.0)])
def test_the_drawn_moment_and_shear_are_the_design_values(size):
    evaluation = ramp()
    load = worst_load(evaluation)
    picture = strength_picture(evaluation, size_mm=size)
    for forces, rail in zip(evaluation.carried.leaves, lines_of(evaluation, load), strict=True):
        moment = next(one for one in curves(picture, rail.owner) if len(one.vertices) == len(rail.x_mm))
        read, along = reader(picture, "Moment"), place_of(picture)
        assert [along(x) for x, _, _ in moment.vertices] == pytest.approx(rail.x_mm.tolist(), abs=5)
        assert [read(y) for _, y, _ in moment.vertices] == pytest.approx(
            (rail.moment_nmm / 1000).tolist(), abs=3
        )
        shear = curves(picture, rail.owner)[-1]
        read = reader(picture, "Shear")
        assert [read(y) for _, y, _ in shear.vertices] == pytest.approx(rail.shear_n.tolist(), abs=10)
        assert float(rail.moment_nmm.max()) == pytest.approx(
            float((1.35 * forces.self_weight_moment_nmm + 1.5 * forces.moment_nmm[load]).max())
        )


def test_sagging_is_drawn_downward():
    picture = strength_picture(ramp())
    read = reader(picture, "Moment")
    assert read(picture.box[1]) > read(picture.box[3])
    read = reader(picture, "Sag")
    assert read(picture.box[1]) > read(picture.box[3])


def test_the_greatest_sag_and_its_limit_are_those_of_the_check():
    evaluation = ramp()
    check = next(check for check in evaluation.checks if check.id == "own/sag")
    sag = evaluation.carried.sag
    assert sag is not None
    worst = max(
        loads_of_use(evaluation),
        key=lambda number: float((sag.self_weight_mm + sag.load_mm[number] + sag.play_mm).max()),
    )
    said = texts(strength_picture(evaluation, worst))
    assert f"{check.value:.1f} mm".replace(".0 mm", " mm") in said
    assert any(f"limit {check.limit:.1f} mm" in words for words in said)


@pytest.mark.parametrize(
    "toe",
    [{}, {"kind": "taper", "length_mm": 300.0, "thickness_mm": 3.0}],
    ids=["bending governs", "an open taper"],
)
def test_the_per_cent_is_the_utilisation_of_the_check(toe: dict[str, object]):
    """EN 1993-1-1, 6.2.8: shear lowers what is left for bending, on the picture as in the check."""
    design = timber_ramp()
    evaluation = evaluate(replace(design, toe=replace(design.toe, **toe)))
    check = next(one for one in evaluation.checks if one.id == "own/strength/outer-rails")
    (_, outer), (_, places) = lines_of(evaluation, worst_load(evaluation)), evaluation.carried.leaves
    assert outer.capacity is not None
    bending = float((outer.moment_nmm / np.interp(places.x_mm, *outer.capacity)).max())
    assert bending <= 1.001 * (check.ratio or 0), "with shear it is never less"
    if not toe:
        assert bending > 0.99 * (check.ratio or 0)
    said = " ".join(texts(strength_picture(evaluation)))
    assert f"{100 * (check.ratio or 0):.0f} %" in said
    assert outer.most_used(0.0)[0] == check.ratio


def test_what_is_beyond_a_limit_is_hatched_and_nothing_else():
    def hatched(evaluation: Evaluation) -> list[Path]:
        rated = next(
            number for number, load in enumerate(evaluation.carried.loads) if load.key.startswith("rated")
        )
        return [
            mark
            for mark in strength_picture(evaluation, rated).marks
            if isinstance(mark, Path) and mark.fill == "clash"
        ]

    design = with_value(timber_ramp(), "made_of.rails", "steel S355")
    light = with_value(with_value(design, "use.rated_load_kg", 20.0), "use.sag_limit", 20.0)
    light = replace(light, use=replace(light.use, users=()))
    assert hatched(evaluate(light)) == []
    (strict,) = hatched(evaluate(with_value(light, "use.sag_limit", 1000.0)))
    assert not strict.owner  # the sag's
    heavy = hatched(evaluate(with_value(light, "use.rated_load_kg", 900.0)))
    assert {path.owner.partition(" ")[0] for path in heavy if path.owner} == {"inner", "outer"}


def test_notches_step_the_resistance_down():
    design = timber_ramp()
    lapped = evaluate(
        replace(design, inner_leaf=replace(design.inner_leaf, cross_fitting="half_lap", half_lap_mm=12.0))
    )
    picture = strength_picture(lapped)
    read, along = reader(picture, "Moment"), place_of(picture)
    dashed = [
        mark
        for mark in picture.marks
        if isinstance(mark, Path) and mark.pen == "hidden" and len(mark.vertices) > 2
    ]
    line = min(dashed, key=lambda path: path.vertices[0][0])
    x, values = [along(x) for x, _, _ in line.vertices], [read(y) for _, y, _ in line.vertices]
    for at in design.inner_leaf.cross_positions_mm:
        assert np.interp(at, x, values) < 0.7 * np.interp(
            at - design.inner_leaf.cross_section.width_mm, x, values
        )


def test_where_nothing_holds_the_joint_a_sentence_stands_for_the_charts():
    folding = evaluate(with_value(timber_ramp(), "stop.kind", "none"))
    assert not folding.carried.held
    picture = strength_picture(folding)
    assert any(words.startswith("Nothing holds the joint") for words in texts(picture))
    assert not any(words.startswith(("Moment", "Shear", "Sag")) for words in texts(picture))
    assert "Nothing holds the joint" in picture.title


def test_a_material_without_a_modulus_or_strength_has_no_sag_or_resistance():
    design = timber_ramp()
    unknown = Material(name="mystery", kind="steel", density_kg_m3=7850)
    own = replace(design, materials=(unknown,), made_of=replace(design.made_of, rails="mystery"))
    said = texts(strength_picture(evaluate(own), size_mm=(300.0, 200.0)))
    assert any("no modulus of elasticity" in words for words in said)
    assert not any("dashed" in words for words in said)


def test_axles_stand_behind_the_first_one_and_carry_the_whole_weight():
    evaluation = ramp()
    for number in loads_of_use(evaluation):
        load, place = evaluation.carried.loads[number], evaluation.carried.worst[number]
        assert isinstance(load, Rolling)
        placed = axle_places_mm(load, place)
        assert sum(axle.force_n for axle, _ in placed) == pytest.approx(load.force_n)
        assert placed[0][1] == pytest.approx(place.first_axle_mm)
        assert any(abs(at - place.section_mm) < 1 for _, at in placed)


def test_loads_that_stand_are_drawn_and_named():
    evaluation = ruled()
    kinds = set()
    for number, load in enumerate(evaluation.carried.loads):
        said = texts(strength_picture(evaluation, number))
        kinds.add(type(load).__name__)
        assert load.words[:30] in said[0]
        if not isinstance(load, Rolling):
            assert any("the ramp" in words for words in said)
            assert any(words.startswith("Sag by own weight") for words in said)
    assert {"Rolling", "PerMetre", "Footprint"} <= kinds


def overlaps(picture: Picture) -> list[tuple[str, str]]:
    """Return the pairs of level words that run into one another, letters taken as wide as they are on the
    average.
    """
    boxes = []
    for mark in labels(picture):
        if mark.angle_deg:
            continue
        wide, tall = len(mark.text) * 1.4 * mark.size_pt / 7.5, 2.2
        x0 = mark.at[0] - {"left": 0.0, "centre": wide / 2, "right": wide}[mark.anchor]
        y0 = mark.at[1] - (tall / 2 if mark.boxed else 0.0)
        boxes.append((mark.text, x0, y0, x0 + wide, y0 + tall))
    return [
        (a[0], b[0])
        for a, b in combinations(boxes, 2)
        if a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4]
    ]


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
@pytest.mark.parametrize("size", [LEAST_MM, SIZE_MM, (300.0, 200.0)])
def test_no_words_run_into_each_other(path, size):
    evaluation = evaluate(load_design(path), path.parent)
    for number in range(len(evaluation.carried.loads)):
        assert overlaps(strength_picture(evaluation, number, size)) == []


def test_forces_of_axles_close_together_stand_above_each_other():
    user = WheeledUser(
        name="Short cart", kind="barrow", mass_kg=300, width_mm=600, wheelbase_mm=150, front_share_percent=90,
        front_track_mm=500, rear_track_mm=500, attendant_kg=80, attendant_behind_mm=60,
    )  # fmt: skip
    design = timber_ramp()
    evaluation = evaluate(replace(design, use=replace(design.use, users=(user,))))
    for size in (LEAST_MM, SIZE_MM):
        picture = strength_picture(evaluation, 0, size)
        assert sum(text.endswith(" N") for text in texts(picture)) >= 3
        assert overlaps(picture) == []


def test_overlapping_words_are_noticed():
    a, b = Label(text="abc", at=(0, 0)), Label(text="def", at=(2, 1))
    assert overlaps(Picture(marks=(a, b), box=(0, 0, 1, 1)))
    assert not overlaps(Picture(marks=(a, replace(b, at=(2, 3))), box=(0, 0, 1, 1)))


def test_marks_name_the_rails_and_stay_within_the_sheet():
    picture = strength_picture(ramp())
    members = {member.key for member in ramp().assembly.members}
    owned = {mark.owner for mark in picture.marks if mark.owner}
    assert owned
    assert owned <= members
    x0, y0, x1, y1 = picture.box
    for mark in picture.marks:
        for x, y in [vertex[:2] for vertex in mark.vertices] if isinstance(mark, Path) else [mark.at]:
            assert x0 <= x <= x1
            assert y0 <= y <= y1
