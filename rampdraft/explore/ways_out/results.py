"""What a way out says."""

from dataclasses import dataclass

from rampdraft.checks.result import MOST_RATIO, Check, Status
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import changed
from rampdraft.model.section import Section
from rampdraft.words.figures import number
from rampdraft.words.say import say, within

Value = float | int | str | bool | Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What a change does to a check other than the one it is made for."""

    before: Check | None
    """None where the check comes only with the change: a prop has checks of its own."""
    after: Check | None
    """None where the check goes with the change."""

    @property
    def name(self) -> str:
        """Return what the check is called in a sentence: `slope (Level yard, deck empty)`."""
        check = self.after or self.before
        assert check is not None
        title = within(check.title)
        return f"{title} ({check.subject})" if check.subject else title

    @property
    def breaks(self) -> bool:
        """Return whether the check fails, and did not fail before."""
        return bool(self.after and self.after.fails and not (self.before and self.before.fails))

    @property
    def words(self) -> str:
        """Return it in a few words: `stowed height above the deck: 1.2 times its limit`."""
        if self.after is None or not self.after.fails:
            unjudged = self.after is not None and self.after.status is Status.UNJUDGED
            return say("{check}: not judged" if unjudged else "{check}: passes", check=self.name)
        ratio = self.after.ratio or 0.0
        if not 1 < ratio < MOST_RATIO:
            return say("{check}: fails", check=self.name)
        times = number(ratio, 2 if ratio < 10 else 1 if ratio < 100 else 0)
        return say("{check}: {times} times its limit", check=self.name, times=times)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A value, or values that are alike, changed."""

    path: str
    """May stand for values that are changed together (`paths_of`)."""
    before: Value
    after: Value


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """One value that, changed so far, brings a failing check just within its limit: alone, or with what is
    changed beside it.
    """

    path: str
    before: Value
    after: Value
    share: float
    """How great the change is: of the value, of a section's area, of a material's strength; 1 for another
    kind of thing. Of several the root of the sum of their squares.
    """
    beside: tuple[Change, ...] = ()
    """What is changed with it."""
    cures: tuple[Effect, ...] = ()
    """Other failing checks that it brings within their limits too."""
    worsens: tuple[Effect, ...] = ()
    """Checks that it brings beyond their limits, or further beyond, or that cannot be judged any more."""
    rolls: bool = True
    """Whether what it does to checks of rolling is among them."""

    @property
    def changes(self) -> tuple[Change, ...]:
        """Return all that is changed, the lead first."""
        return Change(path=self.path, before=self.before, after=self.after), *self.beside

    @property
    def breaks(self) -> bool:
        """Return whether a check fails with it that does not fail without."""
        return any(effect.breaks for effect in self.worsens)

    def taken(self, design: Design) -> Design:
        """Return the design with what is changed."""
        for change in self.changes:
            design = changed(design, change.path, change.after)
        return design
