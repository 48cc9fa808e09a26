"""The one door: design in, everything that can be said of it out."""

from pathlib import Path

import numpy as np

from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.evaluation.stages import Evaluation
from rampdraft.geometry.buildable.problems import require_buildable
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design

__all__ = ["Evaluation", "evaluate"]

# glibc's malloc gives every array above a threshold back to the system, which then clears its pages anew for
# the next one. The threshold rises to the largest piece ever given back (mallopt(3), M_MMAP_THRESHOLD): here
# one of 16 MB, never touched. Elsewhere this does nothing.
np.empty(2**21)


def evaluate(design: Design, folder: Path | None = None, before: Evaluation | None = None) -> Evaluation:
    """Return what follows from a design; `folder` is where its own rule files are looked for.

    Spacings that follow are filled in first, so `evaluation.design` is settled. Each stage is worked out when
    it is first asked for, or shared with the evaluation `before`. Raises DesignError when the values
    contradict each other, FileError when a rule set that it names is not to be had.
    """
    if before is not None and before.folder == folder:
        return before.following(design)
    design = settled(design)
    require_buildable(design)
    return Evaluation(design, rule_sets_for(design, folder), folder)
