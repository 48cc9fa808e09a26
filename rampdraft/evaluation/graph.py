"""A design with the stages that follow from it: made when asked, kept, shared with the design after it."""

import pickle
from typing import Any, ClassVar, Self, TypeVar, cast

from rampdraft.evaluation.stage import Stage
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.progress import Progress, nobody

T = TypeVar("T")


class Graph:
    """A design and what was made of it. Nothing in it changes but that more of it stands.

    Two are equal where their designs and what they were given are: all else follows. It can be sent to
    another process with all that stands; arrays stay read-only there.
    """

    stages: ClassVar[tuple[Stage[Any], ...]] = ()

    def __init_subclass__(cls) -> None:
        cls.stages = tuple(
            cast("Stage[Any]", one)
            for one in vars(cls).values()
            if isinstance(one, Stage)  # pyright: ignore[reportUnknownVariableType]
        )

    def __init__(self, design: Design, given: dict[str, object], before: "Graph | None" = None) -> None:
        self._design = design
        self._given = given
        self._made: dict[str, Any] = dict(given)
        self._before = before
        self._same: dict[str, bool] = {}
        self.worked: set[str] = set()
        """Names of the stages that were worked out for this design, not shared with the one before."""

    @property
    def design(self) -> Design:
        """Return what all this follows from."""
        return self._design

    def made(self, stage: Stage[T]) -> T:
        """Return what a stage made of this design; it is made at the first time of asking."""
        if stage.name not in self._made:
            shared = self._shared(stage)
            self._made[stage.name] = shared[0] if shared else self._worked_out(stage)
        return self._made[stage.name]

    def keep(self, stage: Stage[T], made: T) -> None:
        """Keep what a stage makes of this design, made elsewhere: where it is told how far it is."""
        self._made.setdefault(stage.name, made)

    def stands(self, stage: Stage[Any]) -> bool:
        """Return whether a stage is made already, for this design or for one that it is shared with."""
        return stage.name in self._made

    def shares(self, stage: Stage[Any]) -> bool:
        """Return whether a stage stands already, or can be shared with the design before."""
        return self.stands(stage) or self._shared(stage) is not None

    def complete(self, progress: Progress = nobody) -> Self:
        """Make all that is not made yet, but for what stands aside, and let go of the design before. Raises
        what `progress` raises, which is told between two stages.
        """
        for number, stage in enumerate(self.stages):
            progress(number / len(self.stages), "")
            if not stage.aside:
                self.made(stage)
            elif not self.stands(stage) and (shared := self._shared(stage)):
                self._made[stage.name] = shared[0]
        self._before = None
        return self

    def part(self) -> None:
        """Share what can be shared as far as things stand, and let go of the design before: so that of many
        that follow one another, none complete, only the last two are kept.
        """
        for stage in self.stages:
            if not self.stands(stage) and all(self.stands(need) for need in stage.needs):
                shared = self._shared(stage)
                if shared:
                    self._made[stage.name] = shared[0]
        self._before = None

    def take(self, whole: Self) -> Self:
        """Take what is not made yet from an equal one that was completed elsewhere, and let go of the design
        before: as `complete`, without working anything out.
        """
        for stage in self.stages:  # what a stage needs comes before it
            if self.shares(stage):
                self.made(stage)
            elif stage.name in whole._made:
                self._made[stage.name] = self._settled(stage, whole._made[stage.name])
        self._before = None
        return self

    def _shared(self, stage: Stage[T]) -> tuple[T] | None:
        """Return what the design before made, where all that it was made of is the same; else None."""
        stood = self._before._made if self._before is not None else {}
        if stage.name not in stood or not all(self._as_before(path) for path in stage.reads):
            return None
        # What stands aside is not made only to see whether it is the same.
        same = all(
            (not need.aside or self.shares(need)) and stood.get(need.name) is self.made(need)
            for need in stage.needs
        )
        return (stood[stage.name],) if same else None

    def _worked_out(self, stage: Stage[T]) -> T:
        found = stage.make(self.design, *(self.made(need) for need in stage.needs))
        self.worked.add(stage.name)
        return self._settled(stage, found)

    def _settled(self, stage: Stage[T], found: T) -> T:
        """Return the old object of a stage that settles, while the new one is equal."""
        stood = self._before._made if self._before is not None and stage.settles else {}
        return stood[stage.name] if stage.name in stood and stood[stage.name] == found else found

    def _as_before(self, path: str) -> bool:
        """Return whether a part of the design is as it was in the one before."""
        if path not in self._same:
            assert self._before is not None
            designs = (self.design, self._before.design)
            now, then = (value_at(design, path) if path else design for design in designs)
            self._same[path] = now is then or now == then
        return self._same[path]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Graph) or type(other) is not type(self):
            return False
        return (self.design, self._given) == (other.design, other._given)

    def __hash__(self) -> int:
        return hash(self.design)

    def __getstate__(self) -> bytes:
        # Only the fifth protocol keeps read-only arrays as they are; processes are sent an older one.
        # A copy of what stands, in one step: another thread may send it while more comes to stand.
        own = {"_before": None, "_same": {}, "_made": dict(self._made), "worked": set(self.worked)}
        return pickle.dumps(self.__dict__ | own, protocol=5)

    def __setstate__(self, kept: bytes) -> None:
        self.__dict__.update(pickle.loads(kept))
