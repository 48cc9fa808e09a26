"""What a step of the job needs next, in one line."""

from rampdraft.checks.result import Check
from rampdraft.checks.steps import BY_KEY, Need
from rampdraft.model.fields.paths import label_of, one_called
from rampdraft.words.say import say, within


def need_words(need: Need) -> str:
    """Return what a step needs next."""
    if need.check is not None:
        if need.kind == "cure":
            return say("Cure next: {check}", check=f"{_of(need.check)}, {need.check.against}")
        return say("Not judged: {check}", check=_of(need.check))
    if need.kind == "value":
        return say("Correct first: {value}", value=label_of(need.key))
    if need.kind == "rows":
        one = within(one_called(need.key))
        return say("Add an {one}" if one[0] in "aeiou" else "Add a {one}", one=one)
    return _onward(need)


def _onward(need: Need) -> str:
    if need.kind == "pack":
        return say("Nothing fails in any step. Export the workshop pack")
    name = BY_KEY[need.key].name
    if not need.fails:
        return say("Nothing fails in any step. Go on to {step}", step=name)
    return say(
        "Nothing fails here. Go on to {step}, where {count} fails"
        if need.fails == 1
        else "Nothing fails here. Go on to {step}, where {count} fail",
        step=name,
        count=need.fails,
    )


def _of(check: Check) -> str:
    title = within(check.title)
    return f"{title}, {check.subject}" if check.subject else title
