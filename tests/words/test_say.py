"""Sentences in the language that holds."""

from rampdraft.words.figures import mm
from rampdraft.words.manner import Manner, manner, manner_of, speaking
from rampdraft.words.say import counted, named, say, sentences, within


def test_english_is_said_as_it_stands() -> None:
    assert manner() == Manner()
    assert say("{gap} clear", gap=mm(9)) == "9 mm clear"
    assert say("a {brace} without values") == "a {brace} without values"
    assert counted(1, "{count} person", "{count} persons") == "1 person"


def test_what_has_no_translation_stays_english() -> None:
    with speaking(manner_of("de")):
        assert say("no such sentence {gap}", gap=mm(9.5)) == "no such sentence 9,5 mm"
    assert manner() == Manner()


def test_what_is_said_already_is_said_again_alike() -> None:
    german = sentences("de")
    with speaking(manner_of("de")):
        assert all(say(text) == text for text in german.values() if text not in german)


def test_a_member_is_told_by_its_name() -> None:
    assert named("inner rail 3 - outer slat") == "inner rail 3 - outer slat"
    with speaking(manner_of("de")):
        assert named("inner rail 3 - outer slat") == "innerer Holm 3 - äußere Latte"
        assert named("inner cross member 2 bay 1") == "innere Querstrebe 2, Feld 1"
        assert within("Joint") == "Joint"
    assert within("Joint held") == "joint held"
