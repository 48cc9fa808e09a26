"""All lists of the workshop, for whichever format they are written in."""

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.shop.tables import (
    Table,
    assembly_table,
    cut_table,
    hole_table,
    key_table,
    part_table,
    plan_table,
    purchase_table,
    remark_table,
    weld_table,
)


def lists(evaluation: Evaluation) -> tuple[Table, ...]:
    """Return every list of a design, as the work goes."""
    parts, number = evaluation.parts, evaluation.design.about.drawing_number
    return (
        part_table(parts, number),
        cut_table(parts, number),
        plan_table(evaluation.least_plan, parts, number),
        hole_table(evaluation.design, parts, evaluation.bought, number),
        weld_table(evaluation.welds, parts, number),
        purchase_table(evaluation.costs, number),
        assembly_table(evaluation.assembly_steps, number),
        key_table(evaluation.key_dimensions, parts, number),
        remark_table(evaluation.remarks),
    )
