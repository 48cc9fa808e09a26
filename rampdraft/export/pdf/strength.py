"""The sheets of what the ramp carries, and of the carrier that it stands on.

The load at its worst place with moment, shear and sag; the members, the loads; the carrier from the side and
from the end.

The working of each check stands on the sheets of the checks.
"""

from collections.abc import Iterator
from typing import Final

from rampdraft.checks.demands.strength import MemberRow, member_rows
from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.result import Result
from rampdraft.drawing.carrier_standing import carrier_end, carrier_side
from rampdraft.drawing.loaded_ramp import force_text
from rampdraft.drawing.sheet import Placed, stepped
from rampdraft.drawing.strength import strength_picture
from rampdraft.drawing.style import ACCENT, INK, QUIET
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.drawings import TITLE_MM, titled
from rampdraft.export.pdf.flow import BOTTOM_MM, LEFT_MM, TOP_MM, WIDTH_MM, Column, Flow, Page, Row
from rampdraft.export.pdf.tables import RESULT_SHAPES
from rampdraft.figures import fixed, one_in
from rampdraft.mechanics.loading.loads import Footprint, Load, Rolling
from rampdraft.strength.utilisation import LIMIT_STATES

_TALL_MM: Final = TOP_MM - BOTTOM_MM - TITLE_MM
_BOTH: Final = (
    f"Strength used: by limit states, {LIMIT_STATES.gamma_g:g} × own weight and {LIMIT_STATES.gamma_q:g} ×"
    " load against strengths lowered by their partial factors; at most 100 %. Safety factor: ultimate"
    " strength over what the loads as they are ask of it. Both are of the users and the rated load, with"
    " bumps; the working stands on the sheets of the checks."
)


def strength_pages(evaluation: Evaluation) -> list[Page]:
    """Return the picture of the worst load, and the tables of the members and the loads."""
    return [_picture_page(evaluation), *_table_pages(evaluation)]


def _picture_page(evaluation: Evaluation) -> Page:
    picture = Placed(picture=strength_picture(evaluation, None, (WIDTH_MM, _TALL_MM)))
    title = "What the ramp carries, under the load that bends a rail most"
    ops = titled(picture, title, LEFT_MM, TOP_MM)
    return Page(kind="Strength", scale="not to scale", ops=list(ops))


def _table_pages(evaluation: Evaluation) -> list[Page]:
    flow = Flow("Strength", "Strength of the members, worst first")
    flow.paragraph(CAUTIONS[0], colour=QUIET)
    flow.paragraph(_BOTH, colour=QUIET)
    columns = (
        Column(head="Result", width_mm=38, bold=True),
        Column(head="Member", width_mm=72),
        Column(head="Strength used", width_mm=28, anchor="right"),
        Column(head="Safety factor", width_mm=28, anchor="right"),
        Column(head="Under", width_mm=89),
    )
    rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
    flow.table(columns, (_member_row(row) for row in rows))
    flow.heading("Loads")
    columns = (
        Column(head="Load", width_mm=92, bold=True),
        Column(head="In all", width_mm=26, anchor="right"),
        Column(head="On the ramp", width_mm=137),
    )
    flow.table(columns, (Row(cells=(load.words, *_load_cells(load))) for load in evaluation.carried.loads))
    return flow.pages


def carrier_pages(evaluation: Evaluation) -> list[Page]:
    """Return the carrier on its supports, where users tip it most or leave least; no sheet where no supports
    are described.
    """
    design, standing = evaluation.design, evaluation.standing
    if standing is None:
        return []
    pages: list[Page] = []
    for title, draw in (("from the side", carrier_side), ("from the end", carrier_end)):
        view = stepped(lambda per_mm, draw=draw: draw(design, standing, per_mm=per_mm), WIDTH_MM, _TALL_MM)
        ops = titled(view, f"Carrier {title}, at the worst", LEFT_MM, TOP_MM)
        pages.append(Page(kind="Carrier", scale="not to scale", ops=list(ops)))
    return pages


def _member_row(row: MemberRow) -> Row:
    cells = (
        f"{RESULT_SHAPES[row.result]} {row.result}",
        row.name,
        "–" if row.share is None else fixed(100 * row.share, 0, "%"),
        "–" if row.factor is None else fixed(row.factor, 1),
        row.load or row.why,
    )
    return Row(cells=cells, colour=ACCENT if row.result is Result.FAILS else INK)


def _ways(load: Rolling) -> Iterator[str]:
    """Yield the axles of a load on the steepest slope, each way round."""
    for leading, axles in zip(("front", "back"), load.ways[:2], strict=True):
        forces = (f"{force_text(one.force_n)} at {mm_text(one.offset_mm, 0)}" for one in axles if one.force_n)
        yield f"{leading} leading up {', '.join(forces)} mm behind the first"


def _load_cells(load: Load) -> Iterator[str]:
    """Yield the whole force, and where it acts."""
    match load:
        case Rolling():
            yield force_text(load.force_n)
            bumps = f"; with bumps × {load.factor:g}" if load.factor != 1 else ""
            slope = (
                f"; {one_in(load.grade)}, mass centre {mm_text(load.mass_centre_mm, 0)} mm up"
                if load.mass_centre_mm
                else ""
            )
            yield f"rolls over the whole ramp: {'; '.join(_ways(load))}{slope}{bumps}"
        case Footprint():
            yield force_text(load.force_n)
            yield (
                f"in the middle of the ramp, on {mm_text(load.across_mm, 0)} across by"
                f" {mm_text(load.along_mm, 0)} mm along"
            )
        case _:
            yield ""
            yield f"{fixed(load.n_mm, 2)} kN to the metre, over the whole ramp"
