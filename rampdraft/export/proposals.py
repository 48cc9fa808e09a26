"""Proposals as files: each a design with its picture beside it, every other ramp found, the chart; and all of
it as JSON.
"""

from pathlib import Path
from typing import Any, Final

from rampdraft.drawing.side import standing_view
from rampdraft.drawing.trade_off import trade_off_chart
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.proposals.results import Figures, Proposal, Proposals
from rampdraft.export.pack import rules_name, with_rules_of_the_pack, write_together
from rampdraft.export.svg import picture_svg
from rampdraft.files.design_file import design_text

VERSION: Final = 1


def write_proposals(found: Proposals, folder: Path, own_rules: Path | None) -> tuple[Path, ...]:
    """Write proposals into a folder, which is made if need be, and return the paths of all files written:
    `proposal-1.toml` with `proposal-1.svg`, `other-1.toml` and so on, `trade-off.svg`, and the
    user's own rule files, which are looked for in `own_rules`. Nothing is written where nothing was found.

    Raises ExportError as `write_pack` does.
    """
    if not found.chosen:
        return ()
    contents: dict[str, bytes] = {}
    for name, one in named(found):
        packed = with_rules_of_the_pack(evaluate(one.design, own_rules))
        contents[f"{name}.toml"] = design_text(packed.design).encode()
        if one in found.chosen:
            contents[f"{name}.svg"] = picture_svg(standing_view(packed, packed.sites[0])).encode()
        contents |= _rules(packed)
    contents["trade-off.svg"] = picture_svg(trade_off_chart(found.found, found.chosen)).encode()
    return write_together(folder, contents)


def named(found: Proposals) -> tuple[tuple[str, Proposal], ...]:
    """Return every ramp found with the stem of its file, the chosen ones first."""
    others = [one for one in found.found if one.design not in {other.design for other in found.chosen}]
    return (
        *((f"proposal-{number}", one) for number, one in enumerate(found.chosen, start=1)),
        *((f"other-{number}", one) for number, one in enumerate(others, start=1)),
    )


def _rules(evaluation: Evaluation) -> dict[str, bytes]:
    return {rules_name(one): one.text.encode() for one in evaluation.rule_sets if one.text}


def proposals_report(found: Proposals, reason: str) -> dict[str, Any]:
    """Return what a search came to, for other programs; `reason` says why nothing was found."""
    names = named(found)
    return {
        "version": VERSION,
        "proposals": [_told(name, one) for name, one in names if one in found.chosen],
        "others": [_told(name, one) for name, one in names if one not in found.chosen],
        "designs_tried": found.tried,
        "reason": reason or None,
    }


def _told(name: str, one: Proposal) -> dict[str, Any]:
    figures: Figures = one.figures
    closest = figures.closest
    return {
        "file": f"{name}.toml",
        "best": list(one.best),
        "gradient": figures.gradient,
        "inner_leaf_kg": figures.inner_kg,
        "outer_leaf_kg": figures.outer_kg,
        "loose_kg": figures.loose_kg,
        "hand_n": figures.hand_n,
        "stowed": {"above_mm": figures.above_mm, "out_mm": figures.out_mm, "thick_mm": figures.thick_mm},
        "stock_cost": figures.cost,
        "pieces": figures.pieces,
        "closest": None if closest is None else {"id": closest.id, "used": closest.ratio},
    }
