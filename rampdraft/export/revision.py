"""The mark that all sheets and files of one pack carry: two papers with the same one were drawn from the same
design, by the same rules of its own, with the same version of the program.
"""

import hashlib
from typing import Final

from rampdraft import __version__
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.files.design_file import design_text
from rampdraft.model.fields.paths import with_value

_LENGTH: Final = 8
"""Hexadecimal digits of SHA-256 (FIPS 180-4): two designs share them once in 4 thousand million."""


def revision_of(evaluation: Evaluation) -> str:
    """Return the mark; where the rule files of the design lie makes no difference to it."""
    keys = tuple(rule_set.key for rule_set in evaluation.rule_sets)
    texts = (rule_set.text for rule_set in evaluation.rule_sets)
    design = design_text(with_value(evaluation.design, "use.rule_sets", keys))
    whole = "\0".join((__version__, design, *texts))
    return hashlib.sha256(whole.encode("utf-8")).hexdigest()[:_LENGTH]
