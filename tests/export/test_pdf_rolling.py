"""The sheets of rolling over it: every user, site and way is there, the worst of each figure with whose it
is, and poses that show what their titles say.
"""

import io
import math
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pypdf
import pytest
from ramps import standing_in
from timber_ramp import timber_ramp

from rampdraft.drawing.rolling_words import PLACES as SPOTS
from rampdraft.drawing.rolling_words import SIGNS, told_of
from rampdraft.drawing.sheet import LANDSCAPE_MM
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf.flow import Page
from rampdraft.export.pdf.paper import Paper
from rampdraft.export.pdf.rolling import rolling_pages
from rampdraft.figures import newton
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.results import Roll, Worst
from rampdraft.mechanics.rolling.summary import PLACES, Extreme, extremes, summed
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class

TITLE = (
    "Least clearance|Least left before tipping (?:back|forward)|Greatest push by hand"
    "|Greatest drive of wheels|Most to hold back by hand|Most braking of wheels"
    "|Greatest bump at the (?:deck edge|joint|toe)|Least speed left after a bump"
    "|Deepest sink into a gap|Wheel furthest off the surface"
)
NAMES = tuple(path.stem for path in sample_paths())


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


def printed(pages: Sequence[Page]) -> tuple[str, ...]:
    """Return what stands on each sheet, on one line."""
    paper = Paper(title="", author="")
    for page in pages:
        paper.sheet(LANDSCAPE_MM)
        for op in page.ops:
            op(paper)
        paper.sheet_done()
    sheets = pypdf.PdfReader(io.BytesIO(paper.finished())).pages
    return tuple(" ".join(page.extract_text().split()) for page in sheets)


@cache
def sheets(name: str) -> tuple[str, ...]:
    return printed(rolling_pages(sample(name)))


@cache
def tables(name: str) -> str:
    pages = rolling_pages(sample(name))
    return " ".join(text for text, page in zip(sheets(name), pages, strict=True) if page.kind == "Roll-over")


@cache
def found(name: str) -> dict[str, Extreme]:
    return {one.key: one for one in extremes(sample(name).design, sample(name).rolling)}


def pose(name: str, title: str) -> str:
    """Return what stands on the sheets from a pose's title on to the next one's."""
    text = " ".join(sheets(name))
    start = text.index(title)
    end = re.search(r" \d+ (Least|Greatest|Wheel|Worst of) ", text[start + len(title) :])
    return text[start : start + len(title) + end.start()] if end else text[start:]


def with_users(*users: object) -> Evaluation:
    return evaluate(with_value(timber_ramp(), "use.users", users))


@pytest.mark.parametrize("name", NAMES)
def test_every_user_has_every_site_and_way_with_its_result_and_figures(name: str) -> None:
    evaluation, text = sample(name), tables(name)
    users = evaluation.design.use.users
    starts = [text.index(f" {number} {one.name} {one.kind}: ") for number, one in enumerate(users, start=1)]
    ends = [*starts[1:], len(text)]
    assert len(summed(evaluation.rolling)) == len(users) * len(evaluation.design.sites) * 4
    for one in summed(evaluation.rolling):
        own = text[starts[one.user - 1] : ends[one.user - 1]]
        low = one.clearance[1]
        tips = [one.tip_back, one.tip_forward]
        angles = ["held" if tip is None else f"{math.degrees(tip[1].value):.1f}°" for tip in tips]
        forces = [newton(force[1].value) for force in (one.push, one.brake)]
        bumps = [f"{one.bumps[place][1].value:.2f}" if place in one.bumps else "–" for place in PLACES]
        clear = f"{low.value:.1f} mm" if abs(low.value) > 0.05 else f"{low.value:.2f} mm"
        row = f"{one.way} {clear}, {low.part}, {SPOTS[low.place]} {' '.join([*angles, *forces, *bumps])}"
        at = own.index(row.replace("-", "−").replace("anti−tip", "anti-tip"))
        assert told_of(one).words in own[max(at - 80, 0) : at]


@pytest.mark.parametrize("name", NAMES)
def test_the_worst_of_each_figure_stands_with_whose_it_is(name: str) -> None:
    text = tables(name)
    told = {
        "clearance": "Least clearance −?[0-9.]+ mm", "tip_back": "Least left before tipping back −?[0-9.]+°",
        "tip_forward": "Least left before tipping forward −?[0-9.]+°", "push": "Greatest push by hand",
        "drive": "Greatest drive of wheels", "hold": "Most to hold back by hand",
        "brake": "Most braking of wheels", "edge": "Greatest bump at the deck edge [0-9.]+ of its load",
        "joint": "Greatest bump at the joint [0-9.]+ of its load",
        "toe": "Greatest bump at the toe [0-9.]+ of its load", "slowed": "Least speed left after a bump",
        "drop": "Deepest sink into a gap", "hanging": "Wheel furthest off the surface",
    }  # fmt: skip
    for key, pattern in told.items():
        one = found(name).get(key)
        match = re.search(pattern, text)
        if one is None:
            assert match is None or "none" in text[match.end() :][:6]
            continue
        assert match is not None, key
        user = sample(name).design.use.users[one.roll.user - 1].name
        assert user in text[match.start() :][:90], key
        number = {"clearance": 1.0, "edge": 1.0, "joint": 1.0, "toe": 1.0}.get(key)
        if number:
            figure = re.findall(r"−?\d+\.\d+", match[0])[0].replace("−", "-")
            assert float(figure) == pytest.approx(one.worst.value, abs=0.051)


@pytest.mark.parametrize("name", NAMES)
def test_a_pose_shows_the_figure_of_its_title(name: str) -> None:
    """The title is of the roll, the words below it of the user put there again."""
    worst = found(name)["clearance"].worst.value
    told = f"{abs(worst):.1f}".removesuffix(".0")
    shown = pose(name, "1 Least clearance: ")
    assert (f"{told} mm clear" if worst >= 0 else f"aground by {told} mm") in shown
    if "hanging" in found(name):
        off = f"{found(name)['hanging'].worst.value:.1f} mm off"
        assert off in pose(name, " Wheel furthest off the surface: ")
    tips = [(key, found(name)[key].worst.value) for key in ("tip_back", "tip_forward") if key in found(name)]
    for key, left in sorted(tips, key=lambda one: one[1])[:1]:
        way = key.removeprefix("tip_")
        shown = pose(name, f" Least left before tipping {way}: ")
        angle = f"{abs(math.degrees(left)):.1f}°"
        assert (f"{angle} before it tips {way}" if left >= 0 else f"tips {way}, {angle} too far") in shown


def test_each_place_is_drawn_enlarged_with_what_meets_what() -> None:
    for place, words in (("edge", "deck edge"), ("joint", "joint"), ("toe", "toe")):
        one = found("library-trailer")[place]
        shown = pose("library-trailer", f" Greatest bump at the {words}: {one.worst.value:.2f} of its load, ")
        assert one.worst.part in shown[:100]
        assert one.worst.met in shown[:100]
        assert re.search(rf"{words}, \d\.\d times as large", shown)


@pytest.mark.parametrize("name", NAMES)
def test_the_numbers_of_the_pictures_in_the_table_are_those_of_the_poses(name: str) -> None:
    pages = rolling_pages(sample(name))
    poses = " ".join(text for text, page in zip(sheets(name), pages, strict=True) if page.kind != "Roll-over")
    drawn = re.findall(rf"(\d+) ({TITLE}|Worst of [^:]*): ", poses)
    assert [int(number) for number, _ in drawn] == list(range(1, len(drawn) + 1))
    assert len(drawn) >= 4
    told = re.split(rf"({TITLE})", tables(name))
    rows = dict(zip(told[1::2], told[2::2], strict=True))
    for number, title in drawn:
        if not title.startswith("Worst of"):
            assert re.search(rf" {number}( |$)", rows[title])
    assert {title for title in rows if "bump at" in title} <= {title for _, title in drawn}


def test_what_goes_wrong_is_told_in_full() -> None:
    text = tables("too-steep")
    name = sample("too-steep").design.use.users[0].name
    for outcome in ("grounds", "tips", "bump"):
        assert f"{SIGNS[outcome]} {name}: {outcome} (" in text
    assert "Nothing: " not in text
    assert "Nothing: at every site each way" in tables("orchard-trolley")


def test_who_is_too_wide_is_told_and_has_no_figures() -> None:
    wide = replace(of_class("Wide load", "pushchair"), rear_track_mm=1400.0, width_mm=1450.0)
    (text,) = printed(rolling_pages(with_users(wide)))
    assert "Wide load is not rolled: its wheels are 14" in text
    assert f"{SIGNS['too wide']} too wide" in text
    assert "Nothing: " not in text
    assert " N " not in text[text.index("1 Wide load") :]


def test_a_site_that_is_not_reached_is_told() -> None:
    evaluation = with_users(of_class("Aunt", "manual wheelchair"))
    far = evaluation.sites[0].site_number
    sites = tuple(replace(one, reaches=False) if one.site_number == far else one for one in evaluation.sites)
    rolls = tuple(one for one in evaluation.rolling if isinstance(one, Roll) and one.site_number != far)
    text = " ".join(printed(rolling_pages(standing_in(evaluation, sites=sites, rolling=rolls))))
    assert f"Nobody rolls at {sites[0].site}, deck empty: the ramp does not reach the ground" in text
    assert f"{SIGNS['not reached']} not reached {far} {sites[0].site} any" in text


def test_a_design_without_users_says_so() -> None:
    (text,) = printed(rolling_pages(with_users()))
    assert "The design names no user" in text
    assert "Nothing: " not in text


def test_a_face_that_stops_a_wheel_is_told_as_one() -> None:
    evaluation = with_users(of_class("Aunt", "manual wheelchair"))

    def stopped(worst: Worst) -> Worst:
        return replace(worst, value=math.inf) if worst.place == "toe" else worst

    rolls = []
    for one in evaluation.rolling:
        assert isinstance(one, Roll)
        ways = tuple(
            replace(way, bump=stopped(max(way.bumps, key=lambda bump: bump.place == "toe")),
                    bumps=tuple(map(stopped, way.bumps)))
            for way in one.ways if way.bumps
        )  # fmt: skip
        rolls.append(replace(one, ways=ways))
    text = " ".join(printed(rolling_pages(standing_in(evaluation, rolling=tuple(rolls)))))
    assert f"{SIGNS['stopped']} Aunt: stopped (a wheel meets a face that no force takes it over)" in text
    assert "Greatest bump at the toe: more than can be had, " in text
    assert " stops " in text
