"""How the ramp is put together, on paper: what is bought, the dimensions that matter, the weld list, the
order of assembly with pictures.
"""

from collections.abc import Iterator
from typing import Any, Final

from rampdraft.drawing.assembling import step_view
from rampdraft.drawing.sheet import SCALES, Placed
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.flowing import (
    Column,
    Row,
    beside,
    gap,
    heading,
    in_bold,
    in_quiet,
    marked,
    of_markup,
    paragraph,
    picture,
    table,
)
from rampdraft.shop.order import Count, Step
from rampdraft.shop.welds import Weld
from rampdraft.words.figures import exact, figure
from rampdraft.words.say import say

_PICTURE_MM: Final = (104.0, 36.0)
_SHARES: Final = (106.0, 74.0)


def bought_list(evaluation: Evaluation) -> Iterator[Any]:
    """Yield what is bought besides the parts."""
    if not evaluation.bought:
        return
    columns = (
        Column(head=say("No."), width_mm=12, bold=True),
        Column(head=say("What"), width_mm=72),
        Column(head=say("How much"), width_mm=18, anchor="right"),
        Column(head=say("Standard"), width_mm=26),
        Column(head=say("Where"), width_mm=52),
    )
    yield from heading(say("Bought besides"))
    yield table(
        columns,
        (
            Row(
                cells=(
                    one.number,
                    one.name,
                    exact(one.quantity, "m") if one.unit == "m" else exact(one.quantity),
                    one.standard,
                    one.where,
                )
            )
            for one in evaluation.bought
        ),
        size_pt=7.0,
    )
    yield from (paragraph(words) for words in evaluation.costs.told)


def remark_list(evaluation: Evaluation) -> Iterator[Any]:
    """Yield what the lists cannot hold: whoever builds it has to find a way."""
    if not evaluation.remarks:
        return
    yield from heading(say("To be settled before it is built"))
    for one in evaluation.remarks:
        yield paragraph(one.line)


def key_dimensions(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the dimensions that matter more than the general tolerances hold them to."""
    columns = (
        Column(head=say("Dimension that matters"), width_mm=60),
        Column(head="mm", width_mm=16, anchor="right"),
        Column(head=say("May be"), width_mm=20),
        Column(head=say("Why"), width_mm=60),
        Column(head=say("Parts"), width_mm=24),
    )
    yield from heading(say("Dimensions that matter"))
    yield table(
        columns,
        (
            Row(
                cells=(
                    one.what,
                    figure(one.size_mm, "", 2),
                    f"+{figure(one.over_mm, '', 2)} −{figure(one.under_mm, '', 2)}",
                    one.why,
                    ", ".join(one.parts),
                )
            )
            for one in evaluation.key_dimensions
        ),
        size_pt=7.0,
    )


def weld_list(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the weld list, in the order in which they are laid."""
    if not evaluation.welds:
        return
    columns = (
        Column(head=say("Weld"), width_mm=12, bold=True),
        Column(head=say("Off"), width_mm=10, anchor="right"),
        Column(head=say("Throat, runs, length mm (ISO 2553)"), width_mm=52),
        Column(head=say("Of what"), width_mm=30),
        Column(head=say("Joins"), width_mm=34),
        Column(head=say("Each mm"), width_mm=16, anchor="right"),
        Column(head=say("All mm"), width_mm=18, anchor="right"),
    )
    yield from heading(say("Weld list, in the order in which they are laid"))
    yield of_markup(in_quiet(say(_HOW)), after_mm=1.0)
    yield table(columns, (_weld_row(weld) for weld in evaluation.welds), size_pt=7.0)


_HOW: Final = (
    "Fillets, from the middle outward, left and right in turn; ○ all round. Before each: parts clamped and"
    " tacked. Let knuckles cool on their setting bar, a run on each in turn. Quality level C of ISO 5817,"
    " common practice."
)


def _weld_row(weld: Weld) -> Row:
    return Row(
        cells=(
            weld.number,
            str(weld.quantity),
            weld.designation,
            say(weld.kind),
            say("{one} to {other}", one=weld.parts[0], other=weld.parts[1]),
            figure(weld.length_mm, "", 1),
            figure(weld.quantity * weld.length_mm, "", 0),
        )
    )


def assembly_order(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the steps of the assembly, each with its picture where something comes on."""
    yield from heading(say("Order of assembly"))
    done: frozenset[str] = frozenset()
    for step in evaluation.assembly_steps:
        view = _step_picture(evaluation, step, done)
        words = of_markup(_step_words(step), size_pt=7.5)
        if view is None:
            yield words
        else:
            yield beside([picture(view)], [words], shares=_SHARES)
        yield gap(2.0)
        done |= frozenset(step.members)


def _step_picture(evaluation: Evaluation, step: Step, done: frozenset[str]) -> Placed | None:
    for scale in SCALES:
        view = step_view(evaluation, step, done, scale)
        if view is None:
            return None
        placed = Placed(picture=view, scale=scale)
        if placed.size_mm[0] <= _PICTURE_MM[0] and placed.size_mm[1] <= _PICTURE_MM[1]:
            return placed
    return None


def _step_words(step: Step) -> str:
    head = f"{step.number}  {step.title[:1].upper()}{step.title[1:]}"
    lines = [f"{in_bold(head)}  {marked(say(step.do))}"]
    takes = ", ".join(map(_count, (*step.parts, *step.bought)))
    if takes:
        lines.append(marked(say("Takes {takes}.", takes=takes)))
    if step.welds:
        lines.append(marked(say("Welds {numbers}.", numbers=", ".join(step.welds))))
    lines.append(in_quiet(say("Before going on: {look}.", look=say(step.look))))
    return "<br/>".join(lines)


def _count(one: Count) -> str:
    return f"{exact(one.quantity)} × {one.number}"
