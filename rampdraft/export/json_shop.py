"""What is made, bought, welded and put together, as plain data for other programs."""

from collections.abc import Sequence
from typing import Any

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.shop.bought import Bought
from rampdraft.shop.costs import Costs
from rampdraft.shop.cutting.results import CuttingPlan
from rampdraft.shop.holes import holes_of
from rampdraft.shop.order import Count, Step
from rampdraft.shop.parts import Part
from rampdraft.shop.tolerances import cut_tolerance_mm
from rampdraft.shop.welds import Weld

Json = Any


def shop_data(evaluation: Evaluation) -> dict[str, Json]:
    """Return parts, cutting plan, welds, purchases, order of assembly and the dimensions that matter."""
    return {
        "parts": [_part(evaluation, part) for part in evaluation.parts],
        "cutting_plan": plan_report(evaluation.least_plan),
        "welds": [_weld(weld) for weld in evaluation.welds],
        "bought": [_bought(one) for one in evaluation.bought],
        "purchases": _costs(evaluation.costs),
        "assembly": [_step(step) for step in evaluation.assembly_steps],
        "key_dimensions": [
            {
                "path": key.path,
                "what": key.what,
                "size_mm": key.size_mm,
                "over_mm": key.over_mm,
                "under_mm": key.under_mm,
                "why": key.why,
                "parts": key.parts,
            }
            for key in evaluation.key_dimensions
        ],
        "remarks": [
            {"kind": one.kind, "words": one.words, "members": one.members} for one in evaluation.remarks
        ],
    }


def _bought(one: Bought) -> dict[str, Json]:
    return {
        "number": one.number,
        "kind": one.kind,
        "name": one.name,
        "standard": one.standard,
        "quantity": one.quantity,
        "unit": one.unit,
        "diameter_mm": one.diameter_mm or None,
        "length_mm": one.length_mm or None,
        "where": one.where,
        "members": one.members,
    }


def _step(step: Step) -> dict[str, Json]:
    return {
        "step": step.number,
        "kind": step.kind,
        "do": step.do,
        "look": step.look,
        "parts": _counts(step.parts),
        "bought": _counts(step.bought),
        "welds": step.welds,
        "members": step.members,
    }


def _part(evaluation: Evaluation, part: Part) -> dict[str, Json]:
    piece = part.piece
    return {
        "number": part.number,
        "code": part.code,
        "name": part.words,
        "role": part.role,
        "quantity": part.quantity,
        "hand": part.hand,
        "section": piece.section.text,
        "material": piece.material,
        "length_mm": piece.length_mm,
        "off_by_mm": cut_tolerance_mm(piece.length_mm),
        "ends": [end.text for end in piece.ends],
        "marks": [{"at_mm": mark.at_mm, "what": mark.what} for mark in piece.marks],
        "holes": [
            {
                "at_mm": hole.at_mm,
                "across_mm": hole.across_mm,
                "face": hole.face,
                "diameter_mm": hole.diameter_mm,
                "use": hole.use,
                "deep_mm": hole.deep_mm or None,
                "takes": hole.takes,
            }
            for hole in holes_of(evaluation.design, part, evaluation.bought)
        ],
        "mass_kg": part.mass_kg,
        "members": part.members,
    }


def plan_report(plan: CuttingPlan) -> dict[str, Json]:
    """Return a cutting plan: a stock length each in `bars`, with what is cut from it."""
    return {
        "bars": [
            {
                "section": bar.section,
                "material": bar.material,
                "stock_mm": bar.stock_mm,
                "in_hand": bar.in_hand,
                "cuts": [
                    {
                        "part": cut.part,
                        "length_mm": cut.length_mm,
                        "at_mm": cut.at_mm,
                        "beside_mm": cut.beside_mm,
                    }
                    for cut in bar.cuts
                ],
                "offcut_mm": bar.offcut_mm,
            }
            for bar in plan.bars
        ],
        "unplaced": [{"part": one.part, "quantity": one.quantity, "why": one.words} for one in plan.unplaced],
        "least_bars": plan.least_bars,
        "proven_least": plan.proven_least,
        "cost": plan.cost,
        "words": plan.words,
    }


def _weld(weld: Weld) -> dict[str, Json]:
    return {
        "number": weld.number,
        "kind": weld.kind,
        "shape": weld.shape,
        "designation": weld.designation,
        "throat_mm": weld.throat_mm,
        "runs_mm": weld.runs_mm,
        "length_mm": weld.length_mm,
        "around": weld.around,
        "both_sides": weld.both_sides,
        "parts": weld.parts,
        "places": weld.places,
        "quantity": weld.quantity,
        "judged": weld.judged or None,
    }


def _costs(found: Costs) -> dict[str, Json]:
    return {
        "rows": [
            {
                "kind": row.kind,
                "number": row.number,
                "name": row.name,
                "material": row.material,
                "standard": row.standard,
                "length_mm": row.length_mm or None,
                "quantity": row.quantity,
                "unit": row.unit,
                "each": row.each,
                "cost": row.cost,
            }
            for row in found.rows
        ],
        "untold": [
            {"row": one.row, "column": one.column, "item": one.item, "why": one.why} for one in found.untold
        ],
        "known": found.known,
        "total": found.total,
    }


def _counts(counts: Sequence[Count]) -> list[dict[str, Json]]:
    return [{"number": one.number, "quantity": one.quantity} for one in counts]
