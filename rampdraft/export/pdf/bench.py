"""The bench pack: what goes to saw, drill and welding bench. Drawings on sheets across, lists on upright
pages.
"""

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import Flowed, bound
from rampdraft.export.pdf.check_sheet import cautions
from rampdraft.export.pdf.drawings import arrangement_sheets, detail_sheets, imprint_of
from rampdraft.export.pdf.lists import cutting_plan, part_list
from rampdraft.export.pdf.making import assembly_order, bought_list, key_dimensions, remark_list, weld_list
from rampdraft.export.pdf.room import room_on
from rampdraft.words.say import say


def bench_pack_pdf(evaluation: Evaluation, *, date: str, revision: str = "") -> bytes:
    """Return the bench pack of a design: equal bytes for an equal evaluation, date and revision."""
    room = room_on(evaluation.design.about.paper)
    parts = (
        *arrangement_sheets(evaluation, room),
        *detail_sheets(evaluation, room),
        Flowed(
            kind=say("Lists"),
            story=[
                *part_list(evaluation),
                *bought_list(evaluation),
                *remark_list(evaluation),
                *key_dimensions(evaluation),
                *cutting_plan(evaluation),
                *weld_list(evaluation),
                *assembly_order(evaluation),
                *cautions(evaluation),
            ],
        ),
    )
    return bound(parts, imprint_of(evaluation, date, revision))
