"""The rows of the estimates app."""

from estimates.models.allowances import AllowanceOf, JobAllowance
from estimates.models.ballpark import Ballpark
from estimates.models.job_price import (
    COMPANY_TAX_MODES,
    JobLine,
    JobPrice,
    JobTax,
    Rounding,
    TaxMode,
)
from estimates.models.money import (
    Acceptance,
    ChangeOrder,
    Estimate,
    PricedPer,
    PriceItem,
    PriceTerms,
    Purchase,
    Quote,
)

__all__ = [
    "COMPANY_TAX_MODES",
    "Acceptance",
    "AllowanceOf",
    "Ballpark",
    "ChangeOrder",
    "Estimate",
    "JobAllowance",
    "JobLine",
    "JobPrice",
    "JobTax",
    "PriceItem",
    "PriceTerms",
    "PricedPer",
    "Purchase",
    "Quote",
    "Rounding",
    "TaxMode",
]
