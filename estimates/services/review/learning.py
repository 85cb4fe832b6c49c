"""Taking the rates that closed jobs teach: what was seen is what is taken."""

from __future__ import annotations

from collections.abc import Collection

from jobs.domain.checks import BadValueError
from jobs.models import Company, RateTaking, User
from jobs.readers.rates.learned import learned_of, rate_name
from jobs.services.rates import take_rates
from jobs.services.records import written_before


def take_learned(
    *, company: Company, user: User, key: str, seen: str, chosen: Collection[str]
) -> RateTaking:
    """Return the taking of the chosen rates, each named by `rate_name`, as they were ``seen``.

    Sent again under its key it takes nothing more.

    Raises:
        BadValueError: the logs say otherwise by now, none was chosen, or all count already.
    """
    learned = learned_of(company)
    if learned.seen != seen and not written_before(company=company, key=key):
        accepted = "the rates as the logs have them now; look at them and take them again"
        raise BadValueError(field="rates", value="changed meanwhile", accepted=accepted)
    rates = [rate.after for rate in learned.moved if rate_name(rate) in chosen]
    return take_rates(company=company, user=user, key=key, rates=rates)
