"""What the owner does at the desk once a quote is accepted: crew, days, packet, plan, change."""

from __future__ import annotations

import re
from contextlib import suppress
from decimal import Decimal

from playwright.sync_api import Error, expect

from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands
from tests.browser.loop.tables import amount, shown_in
from tests.builders import PASSWORD

AFTER = "days => new Date(Date.now() + days * 86400000).toISOString().slice(0, 10)"
"""The date so many days after today's in UTC, which is never behind a company of America."""


def put_a_crew_together(hands: Hands) -> None:
    """Lio Hart, who signs in, alone in the Mill crew."""
    hands.press("Company")
    hands.press("Add a person")
    hands.fill(name="Lio Hart", email="lio@example.com", password=PASSWORD)
    hands.choose(role="Crew")
    hands.press("Save the person")
    hands.press("Crews")
    hands.press("Add a crew")
    hands.fill(name="Mill crew")
    hands.tick("Lio Hart")
    hands.press("Save the crew")


def lay_out_days(hands: Hands, job: str, *, after: int, again: bool = False) -> int:
    """Lay the job onto days of the crew, from so many days after today; return how many."""
    hands.open(f"{job}/days")
    hands.choose(crew="Mill crew")
    hands.fill(start=hands.page.evaluate(AFTER, after))
    hands.press("Plan the days again" if again else "Plan the days")
    hands.expect("The work lies on")
    said = re.search(r"The work lies on (\d+) days?\.", hands.page.inner_text("body"))
    assert said is not None
    return int(said[1])


def open_day(hands: Hands, job: str, number: int) -> None:
    """Open a day of the job from the page of its days."""
    hands.open(f"{job}/days")
    hands.page.get_by_role("link", name=re.compile(rf"^{number}: ")).first.click()
    hands.page.wait_for_url(re.compile(r"/days/\d+$"))


def print_packet(hands: Hands, job: str, number: int) -> bytes:
    """Print the packet, see that it is the one that counts, and return its PDF."""
    hands.open(f"{job}/packets")
    hands.press("Print the packet" if number == 1 else "Print the packet again")
    carry_out_waiting()
    # The page itself opens anew once the packet is made: whichever of the two comes first.
    with suppress(Error):
        hands.page.reload()
    newest = hands.page.get_by_role("row").nth(1)
    expect(newest).to_contain_text("issued")
    link = newest.get_by_role("link", name=f"Packet {number} (PDF)", exact=True).get_attribute(
        "href"
    )
    return hands.page.request.get(f"{hands.base}{link}").body()


def plan_what_is_left(hands: Hands, job: str, floor: str) -> None:
    """Take what the log says is down, and plan the rest of the floor."""
    hands.open(f"{job}/floor")
    hands.press(floor)
    hands.press("Plan what is left")
    hands.expect("rows 1 to 9 of 17 are down, 3 planks spoiled")
    hands.press("Save what is down")
    hands.press("Plan the floor")
    hands.expect("Planning the floor")
    carry_out_waiting()
    hands.page.wait_for_url(re.compile(r"/plans/\d+$"))
    hands.expect("In the plan")
    hands.open(f"{job}/floor")
    hands.press(floor)
    hands.expect("What is at hand is enough.")


def price_the_extra(hands: Hands) -> str:
    """Price what the crew noted, from Home; return the link that the homeowner gets."""
    hands.open("/")
    hands.expect("To be priced: “Take the shelf in the hall down”")
    hands.page.get_by_role("link", name="Take the shelf in the hall down").click()
    # Two hours at the 48 of the quote, 12 % overhead, a margin of 25 %.
    hands.expect("$143.36")
    hands.press("Make the change order")
    hands.expect("is ready to be sent")
    return str(hands.page.locator("a.entry.wrap").get_attribute("href"))


def buy_the_floor(hands: Hands, job: str) -> None:
    """Eight cartons at what was quoted."""
    hands.open(f"{job}/purchases/add")
    hands.choose(code="Flooring, per carton")
    hands.fill(quantity="8", amount="490")
    hands.press("Save the purchase")
    hands.expect("$490.00")


def price_the_same_again(hands: Hands, job: str) -> None:
    """The same rooms at another address: planned, and an estimate of them saved."""
    hands.open(job)
    hands.press("Copy the job")
    hands.fill(addresses="9 Cooper Lane")
    hands.press("Copy the job")
    hands.expect("2 floors are being planned.")
    carry_out_waiting()
    hands.step("Price")
    hands.press("Save the estimate")
    hands.expect("Write the quote")


def quote_it(hands: Hands) -> Decimal:
    """Issue the quote of the estimate that is open; return its total."""
    hands.press("Write the quote")
    hands.press("Preview the quote")
    hands.press("Issue the quote")
    hands.expect("Locked.")
    return amount(shown_in(hands, r"Total (\$[\d,.]+)")[0])
