"""Errors in two families: the user's world (shown as they are) and our own bugs (everything else)."""

from __future__ import annotations

from engine.base.words import LookUp, told


class UserError(Exception):
    """Something in the user's world is wrong: says what, where and what to do, in one or two sentences.

    Parameters
    ----------
    what : str
        The fact, with the offending value ("slice 41 is missing between 1230.0 and 1236.0 mm").
    where : str
        File, series, volume, beam or cell it concerns; may be empty.
    do : str
        What the person can do next; may be empty.

    Each is a literal or made by ``engine.base.words.say``, so that the screens can show it in another language.
    """

    def __init__(self, what: str, where: str = "", do: str = "") -> None:
        self.what, self.where, self.do = what, where, do
        super().__init__(what)

    def __str__(self) -> str:
        return _sentence(self.where, self.what, self.do)

    def told(self, look_up: LookUp) -> str:
        """Return the whole sentence in the words of `look_up`; see ``engine.base.words.told``."""
        return _sentence(*(told(text, look_up) for text in (self.where, self.what, self.do)))


def _sentence(where: str, what: str, do: str) -> str:
    text = f"{where}: {what}" if where else str(what)
    return f"{text.rstrip('.')}. {do}".strip() if do else text


class InputError(UserError):
    """A file or folder cannot be used."""


class GeometryError(UserError):
    """Images, grids, beams or volumes do not fit together."""


class EmptyVolume(UserError):
    """A number was asked of a volume that holds nothing; screens show a dash."""


class StoreError(UserError):
    """The case file cannot be read or written (locked, full disk, newer version, damaged)."""


class SealError(UserError):
    """A record does not hold: broken chain, wrong passphrase, or nothing to sign."""


class Cancelled(Exception):
    """The person or a newer request stopped a computation; an ordinary outcome, not a failure."""
