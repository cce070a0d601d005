"""Sentences for people as a template and its values, so that they can be shown in another language.

``say("{count} slices of {volume} hold nothing", count=3, volume=name)`` is the English sentence, an ordinary ``str``:
it prints, compares, hashes and is stored as that string. It also remembers the template and the values, from which
``told(text, look_up)`` makes the sentence again with the words that `look_up` finds. The engine knows no language:
`look_up` is given by whoever shows the text.

A template is a string literal with named fields in the format language of ``str.format`` (numbers bring their format:
``{dose_gy:.2f}``). A value may itself be ``Words`` and is then told with the same `look_up`; a plain ``str`` among the
values is a name and stays as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from numbers import Number
from string import Formatter
from typing import Any

LookUp = Callable[[str, int], str]


class Words(str):
    """An English sentence that remembers how it was made.

    Attributes
    ----------
    template : str
        What a translator sees.
    values : mapping of name to value
        What fills the template's fields; a number in ``values["count"]`` chooses the plural where `one` is given.
    one : str
        The template for a count of one; empty where number plays no part.
    """

    template: str
    values: Mapping[str, Any]
    one: str

    def __new__(cls, template: str, values: Mapping[str, Any], one: str = "") -> Words:
        text = one if one and values["count"] == 1 else template
        self = super().__new__(cls, text.format(**values))
        self.template, self.values, self.one = template, values, one
        return self

    def __getnewargs__(self) -> tuple[str, Mapping[str, Any], str]:  # type: ignore[override]
        return self.template, self.values, self.one


def say(template: str, /, **values: Any) -> Words:
    """Return the sentence of `template` with its fields filled by `values`.

    Raises
    ------
    KeyError
        If the template has a field without a value: a bug of the caller.
    """
    return Words(template, values)


def template(text: str, /) -> str:
    """Mark a literal as a template that is filled by ``say`` somewhere else: the entry of a table of templates."""
    return text


def say_count(one: str, many: str, /, count: int, **values: Any) -> Words:
    """Return `one` for a count of 1 and `many` for any other; both may name ``{count}`` and the other values.

    A translator sees `many` and gives as many forms as the language has.
    """
    return Words(many, {"count": int(count), **values}, one)


def as_words(text: str) -> Words:
    """Return a plain literal as ``Words``, so that it is looked up among the values of another sentence too."""
    return text if isinstance(text, Words) else Words(text.replace("{", "{{").replace("}", "}}"), {})


def listed(items: Iterable[object], between: str = ", ") -> Words:
    """Return the items one after the other; those that are ``Words`` stay translatable."""
    values = {f"item_{n}": item for n, item in enumerate(items)}
    gap = between.replace("{", "{{").replace("}", "}}")
    return Words(gap.join(f"{{{name}}}" for name in values), values)


def told(text: object, look_up: LookUp) -> str:
    """Return `text` in the words of `look_up`.

    Parameters
    ----------
    text : str, Words or an error that has a ``told`` of its own
        A plain string is looked up whole.
    look_up : callable
        ``look_up(template, count)`` returns the template of another language, or the same one where it has none;
        count is -1 where number plays no part.
    """
    if not isinstance(text, Words):
        tell = getattr(text, "told", None)
        return str(tell(look_up)) if tell else look_up(text, -1) if isinstance(text, str) and text else str(text)
    found = look_up(text.template, text.values["count"] if text.one else -1)
    if found == text.template and text.one and text.values["count"] == 1:
        found = text.one
    values = {name: _told_value(value, look_up) for name, value in text.values.items()}
    try:
        return _FORMATTER.vformat(found, (), values)
    except (KeyError, IndexError, ValueError):  # a translation that lost a field must not cost the sentence
        return str.__str__(text)


def _told_value(value: Any, look_up: LookUp) -> Any:
    if isinstance(value, Words) or hasattr(value, "told"):
        return told(value, look_up)
    return value


class _ForPeople(Formatter):
    """Writes negative numbers with a minus sign; the plain string keeps the hyphen that programs read."""

    def format_field(self, value: Any, format_spec: str) -> str:
        text = str(super().format_field(value, format_spec))
        negative = isinstance(value, Number) and text.startswith("-")
        return f"\u2212{text[1:]}" if negative else text


_FORMATTER = _ForPeople()
