"""Evidence: every code has its rule, and a gravity."""

from engine.volumes import evidence as ev


def test_every_code_has_a_rule_and_a_gravity():
    told = {v for k, v in vars(ev).items() if k.isupper() and isinstance(v, str)}
    assert told == set(ev.RULES)
    assert len(told) == 17
    assert {ev.severity_of(code, False) for code in told} == {"note", "warn"}


def test_a_target_at_the_end_of_the_scan_is_graver_than_an_organ():
    assert ev.severity_of(ev.SCAN_END, True) == "warn"
    assert ev.severity_of(ev.SCAN_END, False) == "note"
    assert ev.severity_of(ev.SIDE, False) == "warn"
    assert ev.severity_of(ev.SIZE, True) == "note"
