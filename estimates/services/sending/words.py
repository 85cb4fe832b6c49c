"""What mails and messages about a quote say."""

from __future__ import annotations

from datetime import date

from estimates.models import Quote
from estimates.readers.sending.addressee import addressee_of
from jobs.http import whole_address
from jobs.models import Job
from jobs.services.mail.outbox import one_line


def place_of(job: Job) -> str:
    """Return where the floor is, in one line, else what the job is called."""
    return one_line(job.address.replace("\n", ", ")) or job.title


def office_page(name: str, pk: int) -> str:
    """Return the whole address of a page of the office; nobody opens it without a sign-in."""
    return whole_address(name, pk)


def day_words(day: date) -> str:
    """Return a day as a letter says it."""
    return f"{day:%B} {day.day}, {day.year}"


def subject_of(quote: Quote) -> str:
    """Return the subject of the mail that brings a quote."""
    return f"Quote {quote.called} for your floor, {place_of(quote.job)}"


def letter_words(quote: Quote, link: str, sender: str) -> str:
    """Return what the mail says that brings a quote; ``link`` stands on a line of its own."""
    company = quote.job.company
    lines = [
        f"{addressee_of(quote.job).greeting},",
        "",
        f"here is our quote for {place_of(quote.job)}. Read it, ask us, choose and accept here:",
        "",
        link,
        "",
        f"The same quote is attached to print. It is valid until {day_words(quote.valid_until)}.",
        "",
        sender,
        company.name,
        company.phone,
    ]
    return "\n".join(lines).strip() + "\n"


def message_words(quote: Quote, link: str) -> str:
    """Return what the text message says that brings a quote."""
    company = quote.job.company
    greeting = addressee_of(quote.job).greeting
    return f"{greeting}, here is our quote for {place_of(quote.job)}: {link} {company.name}"


def answer_message(quote: Quote, answer: str, link: str) -> str:
    """Return what the text message says that brings an answer."""
    return f"{answer} {link} {quote.job.company.name}"
