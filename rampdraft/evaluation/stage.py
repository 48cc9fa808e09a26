"""Stages: what is worked out, from what. Each is declared once, as data, and made when somebody asks for it.

A stage is made of parts of the design and of other stages, and of nothing else. So what stands can be shared:
a design that follows from another one makes again only those stages of which a part or a need is another.
"""

from collections.abc import Callable
from dataclasses import FrozenInstanceError
from typing import TYPE_CHECKING, Any, Final, Generic, Self, TypeVar, overload

if TYPE_CHECKING:
    from rampdraft.evaluation.graph import Graph

T = TypeVar("T")

WHOLE: Final = ""
"""Read by a stage that reads the design whole."""


class Stage(Generic[T]):
    """One thing that follows from a design: an attribute of the class that declares it.

    `make` takes the design and what the stages of `needs` made, in their order. `reads` holds the paths of
    the parts of the design that it looks at: of a group (`inner_leaf`) or a value (`fold.clearance_mm`).
    Where a stage `settles`, it keeps the old object as long as what it makes is equal, and so whatever needs
    it is shared too; that is for plain values. One that stands `aside` is dear and not always wanted: it is
    made only when asked for by name.
    """

    def __init__(
        self,
        make: Callable[..., T],
        *,
        reads: tuple[str, ...] = (),
        needs: tuple["Stage[Any]", ...] = (),
        settles: bool = False,
        aside: bool = False,
    ) -> None:
        self.make, self.reads, self.needs = make, reads, needs
        self.settles, self.aside = settles, aside
        self.name = ""

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    @overload
    def __get__(self, graph: None, owner: type) -> Self: ...
    @overload
    def __get__(self, graph: "Graph", owner: type) -> T: ...
    def __get__(self, graph: "Graph | None", owner: type) -> "T | Self":
        return self if graph is None else graph.made(self)

    def __set__(self, graph: "Graph", value: object) -> None:
        raise FrozenInstanceError(f"{self.name} follows from the design")
