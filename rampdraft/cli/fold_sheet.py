"""The ways to fold as text for a terminal."""

import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from rampdraft.checks.notes import CAUTIONS
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.folds import Freed, SiteFold
from rampdraft.mechanics.folding.search import Blocked, FoundPath
from rampdraft.mechanics.handling.hands import hands
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.model.fields.paths import GROUP_LABELS, walk
from rampdraft.words.figures import exact, fixed
from rampdraft.words.say import named, say

_WIDTH: Final = 100


def fold_sheet(evaluation: Evaluation, folds: Sequence[SiteFold], freed: Sequence[Freed]) -> str:
    """Return everything that `rampdraft fold` prints: each site's stages, or what blocks it, and what would
    free the fold.
    """
    design = evaluation.design
    lines = [
        say(
            "{name}: ways to fold, deck empty, at least {clearance} clear",
            name=design.about.name,
            clearance=exact(design.fold.clearance_mm, "mm"),
        ),
        "",
    ]
    for fold in folds:
        lines.append(f"{fold.site_number}  {fold.site}")
        lines.extend(
            _blocked(fold.found) if isinstance(fold.found, Blocked) else _stages(evaluation, fold.found)
        )
        lines.append("")
    if any(isinstance(fold.found, Blocked) for fold in folds):
        lines.append(say("What alone would free it at the first site"))
        labels = {path: info.record.label for path, info, _ in walk(design) if info.record is not None}
        lines.extend(
            f"  {_group(one.path)}, {say(labels[one.path])}: {one.before:g} → {one.after:g}" for one in freed
        )
        lines.extend([] if freed else [say("  no single dimension that was tried")])
        lines.append("")
    lines.extend([say("Cautions"), *(line for caution in CAUTIONS for line in _wrapped(f"- {say(caution)}"))])
    return "\n".join(lines) + "\n"


def _stages(evaluation: Evaluation, found: FoundPath) -> Iterator[str]:
    asked = hands(evaluation.design, evaluation.assembly, found.path)
    for stage, held in zip(found.path.stages, asked, strict=True):
        told = f"{hands_words(held)}, {people_words(held)}"
        yield from _wrapped(f"{held.number}. {stage.say} ({told})")
    tightest = found.clearance.tightest
    yield from _wrapped(
        say(
            "tightest: {member_a} and {member_b}; no pose has less than {certified}",
            member_a=named(tightest.member_a),
            member_b=named(tightest.member_b),
            certified=fixed(tightest.certified_mm, 2, "mm"),
        )
    )


def _blocked(found: Blocked) -> Iterator[str]:
    yield from _wrapped(found.words)


def _group(path: str) -> str:
    return say(GROUP_LABELS[path.partition(".")[0]])


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="     ")
