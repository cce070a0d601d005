"""Checks of what volumes stand on: derived ones on their parents, the plan on volumes that were released."""

from __future__ import annotations

from collections.abc import Iterator

from engine.base.words import say
from engine.case.derived import in_words, out_of_date
from engine.case.release import changed_since, last_release
from engine.review.finding import Facts, Finding


def derived_volumes(facts: Facts) -> Iterator[Finding]:
    """Yield derived volumes that do not fit what they are derived from."""
    rule = say("A derived volume is made from its parents as they are now.")
    for key in out_of_date(facts.case):
        volume = facts.case.volume(key)
        if volume is not None:
            words = say(
                "{volume} is derived ({recipe}) and what it stands on has changed since it was made.",
                volume=volume.name,
                recipe=in_words(facts.case, volume),
            )
            yield Finding("derived-out-of-date", "stop", rule, words, key, key)


def release(facts: Facts) -> Iterator[Finding]:
    """Yield that volumes are still in work, or which of them changed since a physician released them."""
    rule = say("A plan stands on volumes that a physician released for planning.")
    last = last_release(facts.case)
    if last is None:
        yield Finding("volumes-in-work", "note", rule, say("The volumes were not released for planning."), "release")
        return
    changed = changed_since(facts.case, last)
    if changed:
        volume = facts.case.named(changed[0])
        words = say("The release by {who} lapsed: changed since then {names}.", who=last.who, names=", ".join(changed))
        yield Finding("release-lapsed", "warn", rule, words, last.digest, volume.key if volume is not None else "")
