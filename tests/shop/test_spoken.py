"""A piece is called by what it is, where it is and which it is."""

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.starter import starter_design
from rampdraft.shop.parts import part_number
from rampdraft.shop.spoken import spoken


def test_a_piece_is_called_by_kind_place_and_number_and_each_by_another_name() -> None:
    members = evaluate(starter_design()).assembly.members
    names = {member.key: spoken(member) for member in members}
    assert names["inner rail 1"] == "rail, inner, 1"
    assert names["deck pin 2"] == "pin, deck, 2"
    assert names["outer edge upstand left"] == "edge upstand, outer, left"
    bay = next(member for member in members if member.tag.bay)
    assert spoken(bay).endswith(f", {bay.tag.number}, bay {bay.tag.bay}")
    assert len(set(names.values())) == len({part_number(member) for member in members}) == len(members)
