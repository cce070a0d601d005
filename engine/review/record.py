"""Sealed records: a signed statement about fingerprints, chained to the earlier ones of the case.

A reviewer's passphrase never leaves memory. scrypt (RFC 7914) turns it and a random salt into a seed; the seed is an
Ed25519 key (RFC 8032), whose public half and signature stand in the record. So anybody can verify a record without
the passphrase, and nobody can make one without it. The salt of a name's first record in a case is used again, so one
passphrase gives one key per name and case, and a record under a known name with another key is refused.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from dataclasses import dataclass

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from engine.base.errors import SealError
from engine.base.values import Fingerprint, FrozenArray, Value
from engine.base.words import say

GENESIS = "0" * 64
DECISIONS = ("APPROVED", "REJECTED")
SCRYPT_N, SCRYPT_R, SCRYPT_P = 2**16, 8, 1
MIN_PASSPHRASE = 8


@dataclass(frozen=True, eq=False)
class Picture(Value):
    """One picture of the contact sheet as it was signed: encoded PNG bytes (uint8) and where it was made."""

    title: str
    place: str
    png: FrozenArray


@dataclass(frozen=True, eq=False)
class Statement(Value):
    """What is signed. Fingerprints stand for whole values: nothing under them can change unseen.

    Parameters
    ----------
    case, draft : fingerprints of the case and of the draft; draft_key names the draft in later revisions
    requests, doses : fingerprints of the dose requests and of the doses, one per beam
    numbers : ((name, text), ...) what the reviewer saw: prescription, MU per beam, goals with results, DVH figures
    findings : ((code/place, words, answer), ...) open or answered at signing
    pictures : fingerprints of the Picture values
    seen : titles of the pictures opened at full size
    decision : APPROVED or REJECTED; reviewer, role, comment as typed; signed_at UTC ISO 8601
    program : version of the program; physics_version : of the engine
    """

    case: Fingerprint
    draft: Fingerprint
    draft_key: str
    draft_name: str
    requests: tuple[str, ...]
    doses: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    findings: tuple[tuple[str, str, str], ...]
    pictures: tuple[str, ...]
    seen: tuple[str, ...]
    decision: str
    reviewer: str
    role: str
    comment: str
    signed_at: str
    program: str
    physics_version: int

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.decision not in DECISIONS:
            raise SealError(
                say(
                    "a decision is {yes} or {no}, not {decision!r}",
                    yes=DECISIONS[0],
                    no=DECISIONS[1],
                    decision=self.decision,
                )
            )
        if not self.reviewer.strip() or not self.role.strip():
            raise SealError("a record needs the reviewer's name and role", "decision", "Fill them in.")


@dataclass(frozen=True, eq=False)
class Record(Value):
    """A statement with its place in the chain and its signature (hex)."""

    statement: Statement
    previous: Fingerprint
    salt: str
    public_key: str
    signature: str


def seal(statement: Statement, passphrase: str, earlier: Sequence[Record]) -> Record:
    """Sign a statement as the next record after `earlier`. Takes a good part of a second by design.

    Raises
    ------
    SealError
        If the passphrase is too short, or is not the one this reviewer's name used before in this case.
    """
    if len(passphrase) < MIN_PASSPHRASE:
        raise SealError(
            say("a passphrase needs at least {min_passphrase} characters", min_passphrase=MIN_PASSPHRASE),
            "decision",
            "Choose a longer one.",
        )
    verify_chain(earlier)
    before = [r for r in earlier if _same_name(r.statement.reviewer, statement.reviewer)]
    salt = bytes.fromhex(before[0].salt) if before else os.urandom(16)
    key = _key(passphrase, salt)
    public = key.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw).hex()
    if before and public != before[0].public_key:
        raise SealError(
            say("this is not the passphrase that {reviewer} used before in this case", reviewer=statement.reviewer),
            "decision",
            "Type it again, or sign under your own name.",
        )
    previous = earlier[-1].fingerprint if earlier else GENESIS
    signature = key.sign(_message(statement, previous)).hex()
    return Record(statement, previous, salt.hex(), public, signature)


def verify_chain(records: Sequence[Record]) -> None:
    """Check signatures, the chain of digests and that one name keeps one key.

    Raises
    ------
    SealError
        Naming the first record that does not hold.
    """
    previous, keys = GENESIS, dict[str, str]()
    for number, record in enumerate(records, 1):
        where = say(
            "record {number} ({reviewer}, {signed_at})",
            number=number,
            reviewer=record.statement.reviewer,
            signed_at=record.statement.signed_at,
        )
        if record.previous != previous:
            raise SealError("it does not follow the record before it; one was removed, added or changed", where)
        try:
            public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(record.public_key))
            public.verify(bytes.fromhex(record.signature), _message(record.statement, record.previous))
        except (InvalidSignature, ValueError):
            raise SealError("its signature does not fit its content; it was changed after signing", where) from None
        name = record.statement.reviewer.strip().casefold()
        if keys.setdefault(name, record.public_key) != record.public_key:
            raise SealError("it is signed under a known name with another passphrase", where)
        previous = record.fingerprint


def still_covers(record: Record, case: Fingerprint, draft: Fingerprint) -> bool:
    """Whether the present case and draft are the ones that were signed (undo back to them and they are again)."""
    return record.statement.case == case and record.statement.draft == draft


def _message(statement: Statement, previous: Fingerprint) -> bytes:
    return f"halfshade record 1\n{statement.fingerprint}\n{previous}".encode()


def _key(passphrase: str, salt: bytes) -> Ed25519PrivateKey:
    seed = hashlib.scrypt(
        passphrase.encode(), salt=salt, n=SCRYPT_N, r=SCRYPT_R, p=SCRYPT_P, maxmem=256 * 1024 * 1024, dklen=32
    )
    return Ed25519PrivateKey.from_private_bytes(seed)


def _same_name(a: str, b: str) -> bool:
    return a.strip().casefold() == b.strip().casefold()
