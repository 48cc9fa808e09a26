"""The check sheet: what somebody reads who judges the ramp. Summary first, then what the figures are of, then
the working of every check.
"""

from collections.abc import Iterator
from functools import partial
from typing import Any, Final

from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Check, Result, tally_words
from rampdraft.drawing.arrangement import deployed
from rampdraft.drawing.sheet import filling
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.scene import Stand, solid_view
from rampdraft.drawing.style import ACCENT, INK, QUIET
from rampdraft.drawing.text import gradient_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf import fold, rolling, strength
from rampdraft.export.pdf.book import FLOW_MM, Flowed, bound
from rampdraft.export.pdf.drawings import imprint_of
from rampdraft.export.pdf.flowing import Column, Row, beside, gap, heading, pairs, paragraph, picture, table
from rampdraft.export.pdf.gradients import gradients, surfaces
from rampdraft.export.pdf.workings import RESULT_SHAPES, numbers, workings
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.mechanics.loading.loads import persons
from rampdraft.mechanics.results import SitePose, Stowed
from rampdraft.rounding import greatest
from rampdraft.units import RAD
from rampdraft.words.figures import exact, figure, fixed, mm, persons_words
from rampdraft.words.say import named, say

_WIDE_MM: Final = FLOW_MM[0]
_LOOKED_AT: Final = (Result.FAILS, Result.CLOSE, Result.ADVICE, Result.UNJUDGED)
_HOW: Final = (
    "By what is asked, the worst first; ✓ passes, △ close or advice, ✗ fails, ? not judged. In brackets:"
    ' value over limit, or limit over value where it is to be at least so much. "As 12": the working is word'
    " for word that of number 12."
)
_SOLID: Final = 0.42
"""Share of the page's width that the ramp as a solid has, its side view the rest."""
_VIEW_MM: Final = 46.0
_GAP_MM: Final = 3.0


def check_sheet_pdf(evaluation: Evaluation, *, date: str, revision: str = "") -> bytes:
    """Return the check sheet of a design: equal bytes for an equal evaluation, date and revision."""
    parts = (
        Flowed(kind=say("Check sheet"), story=[*_summary(evaluation), *_figures(evaluation)]),
        Flowed(
            kind=say("Check sheet: working"), story=[*_workings(evaluation), *_ending(evaluation)], columns=2
        ),
    )
    return bound(parts, imprint_of(evaluation, date, revision))


def _summary(evaluation: Evaluation) -> Iterator[Any]:
    about, site = evaluation.design.about, evaluation.sites[0]
    yield paragraph(
        about.name[:120], size_pt=16.0 if len(about.name) <= 40 else 11.0, bold=True, after_mm=1.0
    )
    yield paragraph(
        say("Two-section folding ramp: what was checked, and how it came out"), size_pt=9.0, colour=QUIET
    )
    if about.note:
        yield paragraph(about.note[:600])
    yield gap(1.0)
    stand = Stand(pose=site.pose, drop_mm=site.drop_mm, flap_rad=_flap_rad(evaluation, site))
    seen = solid_view(evaluation, stand, Camera())
    solid = filling(lambda _: seen, _SOLID * _WIDE_MM - _GAP_MM, _VIEW_MM)
    side = filling(partial(deployed, evaluation, site), (1 - _SOLID) * _WIDE_MM - _GAP_MM, _VIEW_MM)
    yield beside([picture(solid)], [picture(side)], shares=(_SOLID, 1 - _SOLID))
    yield gap(2.0)
    yield paragraph(
        say("Checks  {tally}", tally=tally_words(evaluation.all_checks)),
        size_pt=10.0,
        bold=True,
        after_mm=2.0,
    )
    yield pairs(_key_figures(evaluation), _WIDE_MM, 30.0)
    yield from cautions(evaluation)
    yield from _to_look_at(evaluation)


def _flap_rad(evaluation: Evaluation, site: SitePose) -> RAD | None:
    """Return how a toe flap lies, where there is one."""
    return site.flap_rad if evaluation.design.toe.kind == "flap" else None


def cautions(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the cautions in full, with the load that is marked."""
    yield from heading(say("Cautions"), room_mm=45.0)
    half = (len(CAUTIONS) + 1) // 2
    told = [paragraph(f"{number}  {say(words)}") for number, words in enumerate(CAUTIONS, start=1)]
    yield beside(told[:half], told[half:])
    marked = exact(evaluation.design.use.rated_load_kg, "kg")
    at_once = persons_words(persons(evaluation.design))
    yield paragraph(
        say("Marked load: {marked}, at most {at_once} at once.", marked=marked, at_once=at_once), bold=True
    )


def _to_look_at(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the checks that do not plainly pass, with the number under which their working stands."""
    number = numbers(evaluation.all_checks)
    rows = [
        _check_row(number[check.id], check) for check in evaluation.all_checks if check.result in _LOOKED_AT
    ]
    if not evaluation.all_checks:
        yield paragraph(say("No rule set was asked for."))
        return
    yield from heading(say("What fails, is close, is advice or is not judged"))
    if not rows:
        yield paragraph(say("Nothing."))
        return
    columns = (
        Column(head=say("No."), width_mm=8, anchor="right"),
        Column(head=say("Result"), width_mm=20, bold=True),
        Column(head=say("Check"), width_mm=72),
        Column(head=say("Value"), width_mm=44),
        Column(head=say("Limit"), width_mm=36),
    )
    yield table(columns, rows, size_pt=7.0)


def _check_row(number: int, check: Check) -> Row:
    what = f"{check.title}: {check.subject}" if check.subject else check.title
    return Row(
        cells=(
            str(number),
            f"{RESULT_SHAPES[check.result]} {say(check.result)}",
            what,
            check.value_text or check.why,
            check.limit_words,
        ),
        colour=ACCENT if check.fails else INK,
    )


def _figures(evaluation: Evaluation) -> Iterator[Any]:
    yield from gradients(evaluation)
    yield from fold.fold_charts(evaluation)
    yield from strength.strength_story(evaluation)
    yield from strength.carrier_story(evaluation)
    yield from rolling.rolling_story(evaluation)


def _workings(evaluation: Evaluation) -> Iterator[Any]:
    yield paragraph(say("Working of every check"), size_pt=11.0, bold=True, after_mm=1.5, keep=True)
    yield paragraph(say(_HOW), size_pt=7.0, colour=QUIET)
    yield from workings(evaluation)


def _ending(evaluation: Evaluation) -> Iterator[Any]:
    """Yield what follows from what it is made of, what is not judged, and what was cited."""
    for title, lines in ((say("Notes"), evaluation.notes), (say("Not judged"), tuple(map(say, UNJUDGED)))):
        yield from heading(title, size_pt=9.0)
        yield paragraph(" ".join(lines), size_pt=7.0)
    sources = sorted(
        {
            (check.source.title, check.source.publication)
            for check in evaluation.all_checks
            if check.source.publication
        }
    )
    if sources:
        yield from heading(say("Sources of the limits"), size_pt=9.0)
        for title, publication in sources:
            yield paragraph(f"{title}: {publication}", size_pt=7.0, after_mm=0.2)


def _key_figures(evaluation: Evaluation) -> Iterator[tuple[str, str]]:
    yield from ramp_figures(evaluation)
    yield from _fold_figures(evaluation)


def ramp_figures(evaluation: Evaluation) -> Iterator[tuple[str, str]]:
    """Yield what the ramp is, in figures."""
    design, assembly, stowed = evaluation.design, evaluation.assembly, evaluation.stowed
    loaded = edge_height_mm(design, evaluation.site_pose(1, "loaded").drop_mm)
    yield (
        say("Deck height"),
        say("{empty} empty, {loaded} loaded", empty=mm(edge_height_mm(design)), loaded=mm(loaded)),
    )
    yield (
        say("Leaves"),
        say(
            "inner {inner}, outer {outer}, {wide} wide; closing faces together"
            if design.fold.closing == "faces"
            else "inner {inner}, outer {outer}, {wide} wide; closing backs together",
            inner=mm(design.inner_leaf.length_mm),
            outer=mm(design.outer_leaf.length_mm),
            wide=mm(design.inner_leaf.width_mm),
        ),
    )
    at_once = persons_words(persons(design))
    yield (
        say("Rated load"),
        say(
            "{load}, at most {at_once} at once",
            load=exact(design.use.rated_load_kg, "kg"),
            at_once=at_once,
        ),
    )
    steepest = max(evaluation.sites, key=lambda site: abs(site.steepest.ratio))
    name = next(name for name, leaf in surfaces(steepest) if leaf is steepest.steepest)
    yield (
        say("Steepest gradient"),
        say(
            "{gradient}, {part} at {site}, {deck}",
            gradient=gradient_text(steepest.steepest),
            part=name,
            site=steepest.site,
            deck=steepest.deck,
        ),
    )
    yield _stowed_size(stowed)
    yield _mass(assembly)


def _stowed_size(stowed: Stowed) -> tuple[str, str]:
    return (
        say("Stowed"),
        say(
            "{above} above the deck, {thick} thick, {out} out, {over} in over the deck",
            above=figure(stowed.above_deck_mm, "mm", 0),
            thick=figure(stowed.thickness_mm, "mm", 0),
            out=figure(stowed.out_mm, "mm", 0),
            over=figure(stowed.over_deck_mm, "mm", 0),
        ),
    )


def _mass(assembly: Assembly) -> tuple[str, str]:
    inner, outer, loose = assembly.inner.mass_kg, assembly.outer.mass_kg, assembly.loose_kg
    whole = sum(member.mass_kg for member in assembly.members)
    return (
        say("Mass"),
        say(
            "{whole}: inner leaf {inner}, outer leaf {outer}, bridge plate and props {loose}, welded to the"
            " carrier {carrier}",
            whole=fixed(whole, 1, "kg"),
            inner=fixed(inner, 1),
            outer=fixed(outer, 1),
            loose=fixed(loose, 1),
            carrier=fixed(whole - inner - outer - loose, 1),
        ),
    )


def _fold_figures(evaluation: Evaluation) -> Iterator[tuple[str, str]]:
    folding = evaluation.fold
    least = folding.clearance.tightest.clearance_mm
    clear = mm(least) if least >= 0 else say("clash, {depth} deep", depth=mm(-least))
    yield say("Least clearance"), f"{clear}, {named(folding.clearance.tightest.what)}"
    room, worst = folding.envelope, greatest(evaluation.hands, lambda stage: stage.share)
    place = say("{share} of the way; friction left out", share=fixed(100 * worst.at, 0, "%"))
    yield (
        say("Folding by hand"),
        say(
            "{hands}, {people}, at the worst place, {place}",
            hands=hands_words(worst),
            people=people_words(worst),
            place=place,
        ),
    )
    yield (
        say("Room to fold"),
        say(
            "{front} in front of the deck edge, {above} above the deck",
            front=figure(room.in_front_mm, "mm", 0),
            above=figure(room.above_deck_mm, "mm", 0),
        ),
    )
    yield say("Joint under load"), folding.joint.words
