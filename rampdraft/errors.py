"""The tree of exceptions. A design that fails a rule raises nothing: that is a result.

RampdraftError
    DesignError             (also ValueError)   a design that cannot be built; carries every Problem found
    StrengthUnknownError    (also ValueError)   a strength that is needed and a material does not hold
    FileError               (also ValueError)   a file that cannot be read or written as asked, with lines
    ExportError             (also OSError)      an export that could not be written
"""

from collections.abc import Sequence
from dataclasses import dataclass

from rampdraft.words.say import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with a value: what, value, rule, way out."""

    key: str
    """Dotted path of the value, as in the file: `inner_leaf.length_mm`, `site[1].ground_mm`."""
    value: str
    """The value as text, empty when it is missing."""
    rule: str
    """The rule that it breaks, a phrase: `must be from 200 to 4000 mm`."""
    way_out: str = ""
    """What to do, a phrase or a sentence; empty when the rule says it all."""
    line: int | None = None
    """Line in the file, counted from 1."""

    def text(self) -> str:
        """Return the problem as one line for people."""
        where = say("line {number}: ", number=self.line) if self.line is not None else ""
        shown = f" = {self.value}" if self.value else ""
        after = f" ({self.way_out})" if self.way_out else ""
        return f"{where}{self.key}{shown}: {self.rule}{after}"


class RampdraftError(Exception):
    """Root of all errors of this program; `problems` holds the data for the screen."""

    def __init__(self, message: str, problems: Sequence[Problem] = ()) -> None:
        self.problems = tuple(problems)
        lines = [message, *(f"  {problem.text()}" for problem in self.problems)]
        super().__init__("\n".join(lines))


class DesignError(RampdraftError, ValueError):
    """A design whose values contradict each other or cannot be built."""


class StrengthUnknownError(RampdraftError, ValueError):
    """A strength that is needed and a material does not hold: what it bears cannot be judged."""

    def __init__(self, material: str, what: str) -> None:
        super().__init__(
            say(
                "The material '{material}' has no {strength} given: add it under Own materials, or choose"
                " another.",
                material=material,
                strength=what,
            )
        )


class FileError(RampdraftError, ValueError):
    """A design file or rule file that cannot be read, or a file that cannot be saved."""


class ExportError(RampdraftError, OSError):
    """An export that could not be written."""
