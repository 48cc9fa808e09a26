"""The fold in pictures: deployed, and where each of its stages ends, with the hands that hold it."""

from dataclasses import dataclass, replace
from typing import Final

from rampdraft.drawing.charts import clearance_curve
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.letters import words_mm
from rampdraft.drawing.side import side_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.units import MM
from rampdraft.words.figures import mm
from rampdraft.words.say import say

_NAME_PT: Final = 8.0
"""Of the name of a handle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldStep:
    """One picture of the fold."""

    say: str
    pose: Pose
    held: tuple[str, ...] = ()
    under: str = ""
    """Figures of the stage that ends here."""


def fold_steps(evaluation: Evaluation) -> list[FoldStep]:
    """Return the steps of the fold that are worth a picture: deployed and the end of each stage; of few
    stages the middle of each as well.
    """
    fold = evaluation.fold
    path = fold.path
    curve = clearance_curve(fold.clearance)
    hands = [tuple(one.handle for one in asked.places) for asked in evaluation.hands]
    steps = [FoldStep(say=say("Deployed"), pose=path.poses[0], held=hands[0])]
    for stage, asked, held in zip(path.stages, evaluation.hands, hands, strict=True):
        if len(path.stages) <= 2:
            steps.append(
                FoldStep(say=say("On the way"), pose=path.pose((stage.start + stage.end) / 2), held=held)
            )
        least = min(value for share, value in curve if stage.start - 1e-9 <= share <= stage.end + 1e-9)
        clear = (
            say("clearance {clearance} or more", clearance=mm(least))
            if least >= 0
            else say("clash, {depth} deep", depth=mm(-least))
        )
        steps.append(
            FoldStep(
                say=stage.say,
                pose=stage.pose_end,
                held=held,
                under=f"{hands_words(asked)}, {people_words(asked)}; {clear}",
            )
        )
    return steps


def step_view(evaluation: Evaluation, step: FoldStep, per_mm: MM) -> Picture:
    """Return the picture of a step at a scale, with room for the names of the handles."""
    view = side_view(
        evaluation, pose=step.pose, drop_mm=evaluation.sites[0].drop_mm, hands=step.held,
        dimensions=False, per_mm=per_mm,
    )  # fmt: skip
    x0, y0, x1, y1 = view.box
    beside = max((words_mm(say(name), _NAME_PT) + 2.0 for name in step.held), default=0.0)
    return replace(view, box=(x0 - beside * per_mm, y0, x1 + 0.7 * beside * per_mm, y1))
