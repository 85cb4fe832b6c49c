"""The pages of passwords: each looked at on a phone and at a desk, with what is refused on it."""

from __future__ import annotations

import pytest

from jobs.models import User
from tests.browser.hands import Hands, look_at
from tests.builders import PASSWORD, make_person

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

NEW = "plank-and-spacer-88"


def test_the_pages_of_passwords_are_read_and_filled_in(hands: Hands, owner: User) -> None:
    assert owner.company is not None
    person = make_person(owner.company, "crew", name="Lio Hart")
    hands.open("/password")
    look_at(hands, "password-1-own")
    hands.fill(old_password="wrong", new_password1=NEW, new_password2="another")
    hands.page.get_by_role("main").get_by_role("button").first.click()
    hands.expect("The two are not the same")
    for label in ("The password now", "The new password once more"):
        hands.page.get_by_role("alert").get_by_role("link", name=label).wait_for()
    look_at(hands, "password-2-own-refused")
    hands.fill(old_password=PASSWORD, new_password1=NEW, new_password2=NEW)
    hands.page.get_by_role("main").get_by_role("button").first.click()
    hands.expect("The password is changed.")
    hands.open(f"/company/people/{person.pk}")
    look_at(hands, "password-3-person")
    hands.page.locator("form[action$='/link'] button").first.click()
    hands.expect("/password/set/")
    look_at(hands, "password-4-person-link")
    link = hands.page.get_by_role("main").inner_text().split("/password/set/")[1].split()[0]
    hands.page.context.clear_cookies()
    hands.open("/password/lost")
    look_at(hands, "password-5-lost")
    hands.open(f"/password/set/{link}")
    look_at(hands, "password-6-set")
    hands.open("/password/set/none/none")
    look_at(hands, "password-7-no-link")
