"""What keeps a survey from having a ramp proposed for it: values that contradict, nothing to build with."""

from collections.abc import Iterator

from rampdraft.errors import DesignError, Problem
from rampdraft.explore.proposals.supply import boxes, guards, rounds, slats
from rampdraft.geometry.buildable.problems import relation_problems
from rampdraft.mechanics.loading.loads import ridden
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design
from rampdraft.model.fields.values import wrong
from rampdraft.model.survey import DESIGNED
from rampdraft.words.say import called, say


def guarded(design: Design) -> bool:
    """Return whether guards stand along the edges: wherever somebody rides."""
    return ridden(design)


def require_proposable(survey: Design) -> None:
    """Raise DesignError, with every problem, where no ramp can be proposed for a survey as it stands."""
    problems = [*relation_problems(survey, frozenset(DESIGNED))]
    if not problems:
        problems = [*_users(survey), *_stock(survey), *_sections(survey)]
    if problems:
        raise DesignError(say("No ramp can be proposed for this survey."), tuple(problems))


def _users(survey: Design) -> Iterator[Problem]:
    if not survey.use.users:
        yield Problem(
            key="use.users",
            value="",
            rule=say("is empty: nobody is said to use the ramp"),
            way_out=say("add a wheeled user, so that width and load are known"),
        )


def _stock(survey: Design) -> Iterator[Problem]:
    """A board of metal, or a hollow section of timber, cannot lie in any shop."""
    for number, row in enumerate(survey.stock, start=1):
        timber = material_named(survey, row.material).kind == "timber"
        if timber != (row.section.kind == "timber") and row.section.kind != "round":
            rule = say("is no board, but of timber" if timber else "is a board, but of no timber")
            way_out = say("give the material that it is made of")
            yield wrong(survey, f"stock[{number}].material", rule, way_out)


def _sections(survey: Design) -> Iterator[Problem]:
    made, wishes = survey.made_of, survey.wishes
    kind = material_named(survey, made.rails).kind
    metals = ("steel", "aluminium") if wishes.welds == "both" else (wishes.welds,)
    if kind not in metals:
        yield wrong(
            survey,
            "made_of.rails",
            say(
                "cannot be welded in this shop, which welds {metals}",
                metals=say(" and ").join(map(say, metals)),
            ),
            say("name a metal that is welded there, or say under wishes what the shop welds"),
        )
        return
    for key, material, found, what in (
        ("rails", made.rails, [one for one in boxes(survey, made.rails) if one.width_mm >= 25], say("rails")),
        ("cross_members", made.cross_members, boxes(survey, made.cross_members), say("cross members")),
        ("slats", made.slats, slats(survey), say("slats")),
        ("upstands", made.upstands, guards(survey) or not guarded(survey), say("edge upstands")),
        ("fittings", made.fittings, rounds(survey, made.fittings), say("knuckles and pins")),
    ):
        if not found:
            yield wrong(
                survey,
                f"made_of.{key}",
                say(
                    "is not among the stock in any section for {parts}, and nothing may be bought",
                    parts=what,
                ),
                say(
                    "add a row of stock in {material}, or allow that sections are bought (wishes.buys)",
                    material=called(material),
                ),
            )
