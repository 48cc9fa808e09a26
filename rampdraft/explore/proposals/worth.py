"""What a design is worth: mass, slope, cost of its stock, number of its pieces; less is better."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals.supply import BARS_MM, price_of
from rampdraft.geometry.sections import properties
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Stock, Towards
from rampdraft.model.section import Section
from rampdraft.shop.parts import BOUGHT, Part
from rampdraft.units import KG, MM

Worth = Callable[[Evaluation], float]


def mass_kg(evaluation: Evaluation) -> KG:
    """Return what all of the ramp weighs."""
    return sum(evaluation.leaves_kg) + evaluation.assembly.loose_kg


def steepest(evaluation: Evaluation) -> float:
    """Return the gradient of the steepest part at any site, in any state of the deck."""
    return max((abs(pose.steepest.ratio) for pose in evaluation.sites if pose.reaches), default=0.0)


def pieces(evaluation: Evaluation) -> int:
    """Return how many pieces are cut and bought."""
    return sum(part.quantity for part in evaluation.parts)


def cost(evaluation: Evaluation) -> float:
    """Return what the metal and timber in the ramp costs by the survey's prices of a kg, cuts and offcuts
    left out.
    """
    design = evaluation.design
    prices = {name: price_of(design, name) for name in {part.piece.material for part in evaluation.parts}}
    return sum(part.mass_kg * part.quantity * prices[part.piece.material] for part in evaluation.parts)


def stock_cost(evaluation: Evaluation) -> float:
    """Return what the stock lengths of the cutting plan cost that are bought: by their own price, else by the
    survey's prices of a kg.
    """
    design, total = evaluation.design, 0.0
    rows = {(row.section.text, row.material, row.length_mm): row for row in design.stock if not row.in_hand}
    for bar in evaluation.plan.bars:
        if bar.in_hand:
            continue
        row = rows[bar.section, bar.material, bar.stock_mm]
        density = material_named(design, bar.material).density_kg_m3
        kg = properties(row.section).area_mm2 * bar.stock_mm * density * 1e-9
        total += row.price or kg * price_of(design, bar.material)
    return total


WORTHS: Final[dict[Towards, Worth]] = {
    "light": mass_kg,
    "gentle": steepest,
    "cheap": cost,
    "quick": lambda evaluation: pieces(evaluation) + mass_kg(evaluation) / 1000,
}


def stocked(evaluation: Evaluation) -> Design:
    """Return the design with a stock length for every piece that the survey's stock holds none for, as it is
    sold: the shortest that holds all such pieces, else the longest.
    """
    design = evaluation.design
    missing = {one.part for one in evaluation.plan.unplaced}
    wanted: dict[tuple[Section, str], list[Part]] = {}
    for part in evaluation.parts:
        if part.number in missing and part.role not in BOUGHT:
            wanted.setdefault((part.piece.section, part.piece.material), []).append(part)
    rows = tuple(
        Stock(section=section, material=material, length_mm=_sold(design, parts))
        for (section, material), parts in wanted.items()
    )
    return replace(design, stock=(*design.stock, *rows))


def _sold(design: Design, parts: list[Part]) -> MM:
    lost, kerf = 2 * design.workshop.end_trim_mm, design.workshop.kerf_mm
    whole = lost + sum((part.piece.length_mm + kerf) * part.quantity for part in parts)
    return next((bar for bar in BARS_MM if bar >= whole), BARS_MM[-1])
