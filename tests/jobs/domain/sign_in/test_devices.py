"""What browsers call themselves, as they send it, and the words for it."""

from __future__ import annotations

import pytest

from jobs.domain.sign_in.devices import UNKNOWN, device_words

MOZILLA = "Mozilla/5.0"
KHTML = "AppleWebKit/537.36 (KHTML, like Gecko)"


IPHONE = "iPhone; CPU iPhone OS 17_5 like Mac OS X"
AGENTS = {
    f"{MOZILLA} ({IPHONE}) Version/17.5 Mobile/15E148 Safari/604.1": "Safari on iPhone",
    f"{MOZILLA} (Linux; Android 10; K) {KHTML} Chrome/124.0 Safari/537.36": "Chrome on Android",
    f"{MOZILLA} (X11; Linux x86_64; rv:125.0) Gecko/20100101 Firefox/125.0": "Firefox on Linux",
    f"{MOZILLA} (Windows NT 10.0; Win64) {KHTML} Chrome/124 Safari/537 Edg/124": "Edge on Windows",
    "curl/8.5": UNKNOWN,
    "": UNKNOWN,
    "<script>": UNKNOWN,
}


@pytest.mark.parametrize(("agent", "words"), AGENTS.items())
def test_a_browser_is_called_what_people_call_it(agent: str, words: str) -> None:
    assert device_words(agent) == words
