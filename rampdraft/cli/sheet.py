"""The check sheet as text for a terminal."""

import math
import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from rampdraft.checks.demands.strength import member_rows
from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Check, Result, tally_words
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.explore.ways_out.words import ways_lines
from rampdraft.explore.wishes.why import barring, clashes
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.export.json_report import gradient
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.mechanics.loading.loads import is_of_use, persons
from rampdraft.mechanics.results import LeafGradient
from rampdraft.model.design import Assist
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words.figures import exact, fixed, percent, persons_words
from rampdraft.words.say import named, say

_WIDTH: Final = 100
_WIDEST: Final = 120
"""Of the line that names a check."""
_EFFECTS: Final = 3
"""So many other checks are named that a way out makes worse or cures too."""


def check_sheet(evaluation: Evaluation, ways: Mapping[str, tuple[WayOut, ...]] | None = None) -> str:
    """Return everything that `rampdraft check` prints, worst check first, the cautions last.

    `ways` are the ways out of each failing check by its id, where they were asked for.
    """
    design = evaluation.design
    title = design.about.name + (f" ({design.about.drawing_number})" if design.about.drawing_number else "")
    blocks = (
        [
            say(
                "{title}, rated load {rated_load}, at most {persons} at once",
                title=title,
                rated_load=exact(design.use.rated_load_kg, "kg"),
                persons=persons_words(persons(design)),
            ),
            say("Rule sets: {sets}", sets=", ".join(design.use.rule_sets) or say("none")),
        ],
        [say("Gradients"), *_gradients(evaluation)],
        [say("Fold"), *_fold(evaluation)],
        [say("Masses"), *_masses(evaluation)],
        [say("Strength"), *_strength(evaluation)],
        [say("Checks: {tally}", tally=tally_words(evaluation.all_checks)), *_checks(evaluation, ways or {})],
        [say("Notes"), *_wrapped(f"- {note}" for note in evaluation.notes)],
        [say("Not judged"), *_wrapped(f"- {say(one)}" for one in UNJUDGED)],
        [say("Cautions"), *_wrapped(f"- {say(caution)}" for caution in CAUTIONS)],
    )
    return "\n\n".join("\n".join(lines) for lines in blocks) + "\n"


def _gradients(evaluation: Evaluation) -> list[str]:
    rows: list[tuple[str, ...]] = [
        (say("site"), say("deck"), say("inner leaf"), say("outer leaf"), say("whole ramp"), "")
    ]
    for site in evaluation.sites:
        note = "" if site.reaches else say("does not reach the ground")
        if site.reaches and not site.grounds_at_toe:
            note = say("grounds at {part}", part=site.touches_with)
        rows.append(
            (
                site.site,
                say(site.state),
                *map(_gradient, (site.inner, site.outer, site.whole)),
                note,
            )
        )
    return table(rows)


def _gradient(leaf: LeafGradient) -> str:
    one_in = gradient(leaf)["one_in"]
    if one_in is None or abs(one_in) > 9999:
        return say("level")
    falls = say(" down to the deck") if one_in < 0 else ""
    return (
        f"1:{abs(one_in):.1f}{falls} {fixed(abs(100 * leaf.ratio), 1, '%')}"
        f" {fixed(abs(math.degrees(math.atan(leaf.ratio))), 1, '°')}"
    )


def _fold(evaluation: Evaluation) -> list[str]:
    fold, design = evaluation.fold, evaluation.design
    tightest, stowed, room = fold.clearance.tightest, fold.stowed, fold.envelope
    clashing = "".join(
        f"; clashing from {start:.0%} to {end:.0%}" for start, end in fold.clearance.spans_clashing
    )
    return _wrapped(
        (
            say(
                "tightest: {clearance}, {what} ({member_a}, {member_b}) at {share} of the"
                " fold ({pose}); {proved}; at least {asked} asked for{clashing}",
                clearance=fixed(tightest.clearance_mm, 2, "mm"),
                what=named(tightest.what),
                member_a=named(tightest.member_a),
                member_b=named(tightest.member_b),
                share=percent(tightest.at),
                pose=_pose(tightest.pose),
                proved=_proved(tightest.certified_mm),
                asked=exact(design.fold.clearance_mm, "mm"),
                clashing=clashing,
            ),
            say("joint: {words}", words=fold.joint.words),
            _hand(evaluation),
            say(
                "room: {front} in front of the deck edge, {above} above the deck, {over} in over it",
                front=_mm(room.in_front_mm),
                above=_mm(room.above_deck_mm),
                over=_mm(room.over_deck_mm),
            ),
            say(
                "stowed: {pose}; {above} above and {below} below the deck surface, {thick} thick,"
                " {over} in over the deck, {out} out past its edge",
                pose=_pose(stowed.pose),
                above=_mm(stowed.above_deck_mm),
                below=_mm(stowed.below_deck_mm),
                thick=_mm(stowed.thickness_mm),
                over=_mm(stowed.over_deck_mm),
                out=_mm(stowed.out_mm),
            ),
        )
    )


def _mm(value: MM) -> str:
    return fixed(value, 0, "mm")


def _proved(certified_mm: float) -> str:
    return (
        say("no bound could be proved")
        if math.isinf(certified_mm)
        else say("no pose has less than {certified}", certified=fixed(certified_mm, 2, "mm"))
    )


def _hand(evaluation: Evaluation) -> str:
    """Return what the hands are asked for at the worst place, and what they would be without the springs."""
    worst, assist = greatest(evaluation.hands, lambda stage: stage.share), evaluation.design.assist
    springs = say("no spring")
    if assist.kind != "none":
        bare = greatest(evaluation.changed("assist.kind", "none").hands, lambda stage: stage.share)
        springs = say("without {springs} {hands}", springs=_springs(assist), hands=hands_words(bare))
    return say(
        "hands: {hands} ({pose}), {people}; {springs}",
        hands=hands_words(worst),
        pose=_pose(worst.pose),
        people=people_words(worst),
        springs=springs,
    )


def _springs(assist: Assist) -> str:
    return (
        say("the {kind} spring", kind=say(assist.kind))
        if assist.count == 1
        else say("the {count} {kind} springs", count=assist.count, kind=say(assist.kind))
    )


def _pose(pose: Pose) -> str:
    inner, fold = (fixed(math.degrees(angle), 1, "°") for angle in (pose.inner_rad, pose.fold_rad))
    return say("inner leaf at {inner}, joint at {fold}", inner=inner, fold=fold)


def _masses(evaluation: Evaluation) -> list[str]:
    inner, outer, loose_kg = (
        evaluation.assembly.inner,
        evaluation.assembly.outer,
        evaluation.assembly.loose_kg,
    )
    return table(
        [
            (
                say("inner leaf"),
                fixed(inner.mass_kg, 1, "kg"),
                say("centre {centre} from the deck hinge", centre=fixed(inner.centre_mm[0], 0, "mm")),
            ),
            (
                say("outer leaf"),
                fixed(outer.mass_kg, 1, "kg"),
                say("centre {centre} from the joint", centre=fixed(outer.centre_mm[0], 0, "mm")),
            ),
            (say("removed separately"), fixed(loose_kg, 1, "kg"), ""),
        ]
    )


def _strength(evaluation: Evaluation) -> list[str]:
    """Return the worst of all members, of the rails, of the joint and of the pins, with both verdicts, or why
    not.
    """
    rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
    kinds = (
        (say("the worst"), tuple(row.key for row in rows)),
        (say("rails"), ("inner-rails", "outer-rails")),
        (say("joint"), ("joint-knuckles",)),
        (say("stop"), ("stop",)),
        (say("pins"), ("joint-pins", "deck-pins")),
    )
    lines = [("", "", say("strength used"), say("safety factor"), "")]
    for kind, families in kinds:
        row = next((row for row in rows if row.key in families), None)
        if row is not None:
            share = "–" if row.share is None else fixed(100 * row.share, 0, "%")
            lines.append(
                (kind, row.name, share, "–" if row.factor is None else fixed(row.factor, 1), say(row.result))
            )
    loads = say(
        "under the worst of {loads}",
        loads=", ".join(load.words for load in evaluation.carried.loads if is_of_use(load)),
    )
    why = next((row.why for row in rows if row.why), "")
    return [*table(lines), *_wrapped((loads, *((why,) if why else ())))]


def _checks(evaluation: Evaluation, ways: Mapping[str, tuple[WayOut, ...]]) -> list[str]:
    """Return two lines a check, and why where it fails or cannot be judged, with what of the wishes bars it
    and its ways out.
    """
    design, rule_sets = evaluation.design, evaluation.rule_sets
    fails = any(check.fails for check in evaluation.all_checks)
    found = clashes(design, rule_sets) if fails else ()
    lines: list[str] = []
    for check in evaluation.all_checks:
        bar = barring(found, check)
        why = (
            (say("Why not: {why_not}", why_not=why_not_words(bar, design, rule_sets)),)
            if bar is not None
            else ()
        )
        told = _wrapped((*_figures(check), *why, *_ways(ways.get(check.id))), _indent())
        lines += (*_headline(check), *told)
    return lines


def _indent() -> str:
    """Return what stands before all beside the longest result."""
    return " " * (4 + max(len(say(result)) for result in Result))


def _headline(check: Check) -> list[str]:
    subject = f": {check.subject}" if check.subject else ""
    words = f"  {say(check.result).ljust(len(_indent()) - 2)}{check.title}{subject}"
    return textwrap.wrap(words, _WIDEST, subsequent_indent=f"{_indent()}  ")


def _figures(check: Check) -> Iterator[str]:
    source = f"{check.source.title} {check.source.clause}".strip()
    yield f"{check.against} [{source}]"
    if check.why and check.result in (Result.FAILS, Result.ADVICE, Result.UNJUDGED):
        yield check.why


def _ways(ways: tuple[WayOut, ...] | None) -> Iterator[str]:
    if ways is not None:
        yield from ways_lines(ways, _EFFECTS)


def table(rows: Sequence[Sequence[str]]) -> list[str]:
    """Return the rows as lines with their columns aligned."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _wrapped(paragraphs: Iterable[str], indent: str = "  ") -> list[str]:
    return [
        line
        for paragraph in paragraphs
        for line in textwrap.wrap(paragraph, _WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")
    ]
