"""The rows of the estimates app."""

from estimates.models.allowances import AllowanceOf, JobAllowance
from estimates.models.ballpark import Ballpark
from estimates.models.closed_review import ClosedReview
from estimates.models.invoices import (
    CompletionSlip,
    Invoice,
    InvoiceOf,
    InvoicePayment,
    PaidBy,
)
from estimates.models.job_price import (
    COMPANY_TAX_MODES,
    JobLine,
    JobPrice,
    JobTax,
    PricedBy,
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
    PurchaseOf,
    Quote,
    TaxRounding,
)
from estimates.models.orders.drafts import ChangeDraft, ChangeLine, ChangeLineKind
from estimates.models.orders.offers import ChangeAnswer, ChangeLink, ChangeOffer, ChangeText
from estimates.models.passport import FloorPassport, PassportEdition
from estimates.models.payer import PayerPrice
from estimates.models.quote_draft import PriceTold, QuoteDraft, QuoteOption, SoldWhere
from estimates.models.quote_link import QuoteEvent, QuoteEventKind, QuoteLink
from estimates.models.sales_terms import PaymentStages, QuoteNumbering, SalesTerms, StateNotice
from estimates.models.work_split import WorkSplit

__all__ = [
    "COMPANY_TAX_MODES",
    "Acceptance",
    "AllowanceOf",
    "Ballpark",
    "ChangeAnswer",
    "ChangeDraft",
    "ChangeLine",
    "ChangeLineKind",
    "ChangeLink",
    "ChangeOffer",
    "ChangeOrder",
    "ChangeText",
    "ClosedReview",
    "CompletionSlip",
    "Estimate",
    "FloorPassport",
    "Invoice",
    "InvoiceOf",
    "InvoicePayment",
    "JobAllowance",
    "JobLine",
    "JobPrice",
    "JobTax",
    "PaidBy",
    "PassportEdition",
    "PayerPrice",
    "PaymentStages",
    "PriceItem",
    "PriceTerms",
    "PriceTold",
    "PricedBy",
    "PricedPer",
    "Purchase",
    "PurchaseOf",
    "Quote",
    "QuoteDraft",
    "QuoteEvent",
    "QuoteEventKind",
    "QuoteLink",
    "QuoteNumbering",
    "QuoteOption",
    "Rounding",
    "SalesTerms",
    "SoldWhere",
    "StateNotice",
    "TaxMode",
    "TaxRounding",
    "WorkSplit",
]
