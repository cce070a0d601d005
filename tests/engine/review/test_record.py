"""Seals: nobody signs for another, nothing changes unseen, nothing leaves the chain."""

from __future__ import annotations

import pytest

from engine.base.errors import SealError
from engine.review import record as records
from engine.review.record import Statement, seal, still_covers, verify_chain


@pytest.fixture(autouse=True)
def light_kdf(monkeypatch):
    """The same function with a small cost, so that many seals fit in a test run."""
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)


def statement(**changes):
    plain = dict(
        case="c" * 64, draft="d" * 64, draft_key="k", draft_name="Draft 1", requests=("r" * 64,), doses=("e" * 64,),
        numbers=(("PTV D95%", "57.2 Gy"),), findings=(), pictures=("p" * 64,), seen=("isocentre",),
        decision="APPROVED", reviewer="R. Reviewer", role="physician", comment="", signed_at="2026-01-01T00:00:00+00:00",
        program="0.1.0", physics_version=1,
    )  # fmt: skip
    return Statement(**{**plain, **changes})


def test_a_chain_of_two_reviewers_verifies():
    first = seal(statement(), "correct horse", ())
    second = seal(statement(reviewer="P. Physicist", decision="REJECTED"), "battery staple", (first,))
    third = seal(statement(comment="again"), "correct horse", (first, second))
    verify_chain((first, second, third))
    assert third.public_key == first.public_key != second.public_key


def test_any_changed_word_breaks_the_signature():
    record = seal(statement(), "correct horse", ())
    for field, value in {
        "comment": "looks fine", "decision": "REJECTED", "numbers": (("PTV D95%", "57.3 Gy"),), "pictures": (),
        "doses": ("f" * 64,), "reviewer": "Somebody Else",
    }.items():  # fmt: skip
        forged = record.but(statement=record.statement.but(**{field: value}))
        with pytest.raises(SealError, match="changed after signing"):
            verify_chain((forged,))


def test_a_removed_or_reordered_record_is_noticed():
    a = seal(statement(), "correct horse", ())
    b = seal(statement(comment="b"), "correct horse", (a,))
    c = seal(statement(comment="c"), "correct horse", (a, b))
    for chain in ((b,), (a, c), (b, a), (a, c, b)):
        with pytest.raises(SealError, match="does not follow"):
            verify_chain(chain)
    verify_chain((a, b))  # a shorter chain is a chain: the last record's place in the case file guards the end


def test_a_known_name_needs_its_own_passphrase():
    first = seal(statement(), "correct horse", ())
    with pytest.raises(SealError, match="not the passphrase"):
        seal(statement(), "wrong horse!", (first,))
    with pytest.raises(SealError, match="not the passphrase"):
        seal(statement(reviewer="  r. REVIEWER "), "wrong horse!", (first,))


def test_a_short_passphrase_an_unknown_decision_and_a_missing_name_are_refused():
    with pytest.raises(SealError, match="at least 8"):
        seal(statement(), "short", ())
    with pytest.raises(SealError, match="APPROVED or REJECTED"):
        statement(decision="maybe")
    with pytest.raises(SealError, match="name and role"):
        statement(reviewer=" ")


def test_a_record_covers_only_what_was_signed():
    record = seal(statement(), "correct horse", ())
    assert still_covers(record, "c" * 64, "d" * 64)
    assert not still_covers(record, "c" * 64, "x" * 64)
    assert not still_covers(record, "x" * 64, "d" * 64)


def test_the_shipped_cost_of_guessing_is_not_small():
    import importlib

    fresh = importlib.util.find_spec("engine.review.record").loader.get_source("engine.review.record")
    assert "SCRYPT_N, SCRYPT_R, SCRYPT_P = 2**16, 8, 1" in fresh
