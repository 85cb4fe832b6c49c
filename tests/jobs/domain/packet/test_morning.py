"""The reading before row one: its limit, and by what it is read."""

from jobs.domain.packet.day import morning_holds


def test_a_morning_reading_says_its_method_before_its_limit() -> None:
    gate = {"places": ["Hall"], "limit": "12 % at most", "method": "Pin meter"}
    assert morning_holds([gate])[0]["limit"] == "Pin meter. 12 % at most"


def test_a_reading_whose_method_nobody_wrote_says_the_limit_alone() -> None:
    gate = {"places": ["Hall"], "limit": "12 % at most", "method": ""}
    assert morning_holds([gate])[0]["limit"] == "12 % at most"


def test_an_open_limit_is_the_makers() -> None:
    gate = {"places": ["Hall"], "limit": "?", "limit_open": True, "method": "Pin meter"}
    assert morning_holds([gate])[0]["limit"] == "Pin meter. Limit, maker's sheet"
