"""All that follows from a design at each edit, worked out by a process that goes on from the edit before."""

from rampdraft.checks.rules.rule import RuleSet
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.model.design import Design
from rampdraft.progress import Progress
from rampdraft.words.manner import Manner, manner

_last: list[tuple[Manner, Evaluation]] = []
"""The evaluation that was completed last in this process: the one place where something is kept between two
questions. What it holds only saves work.
"""


def judge(design: Design, rule_sets: tuple[RuleSet, ...], progress: Progress) -> Evaluation:
    """Return the evaluation of a settled design that can be built, complete, judged by rule sets as they were
    read. Raises what `progress` raises.
    """
    before = next((made for spoken, made in _last if spoken == manner()), None)  # it is told in its words
    if before is not None and before.rule_sets == rule_sets:
        rule_sets = before.rule_sets  # the same object, so that what is judged by them can be shared
    evaluation = Evaluation(design, rule_sets, before=before).complete(progress)
    _last[:] = [(manner(), evaluation)]
    return evaluation
