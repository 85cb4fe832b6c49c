"""Addresses of prices, estimates, quotes, change orders, purchases and reviews."""

from django.urls import URLPattern, path

from estimates.views import (
    change_orders,
    options,
    price_import,
    price_needs,
    prices,
    public,
    purchases,
    quotes,
    review,
)

urlpatterns: list[URLPattern] = [
    path("prices", prices.price_list, name="price-list"),
    path("prices/set", prices.price_set, name="price-set"),
    path("prices/export", price_import.price_export, name="price-export"),
    path("prices/import", price_import.price_import, name="price-import"),
    path("prices/import/<int:pk>", price_import.price_preview, name="price-preview"),
    path(
        "prices/import/<int:pk>/progress",
        price_import.price_import_progress,
        name="price-import-progress",
    ),
    path("prices/answer", price_needs.price_answer, name="price-answer"),
    path("prices/<int:pk>", prices.price_row, name="price-row"),
    path("prices/terms", prices.price_terms, name="price-terms"),
    path("jobs/<int:pk>/price", quotes.job_price, name="job-price"),
    path("estimates/<int:pk>", quotes.estimate, name="estimate"),
    path("estimates/<int:pk>/issue", quotes.quote_issue, name="quote-issue"),
    path("jobs/<int:pk>/quotes", quotes.job_quotes, name="job-quotes"),
    path("quotes/<int:pk>", quotes.quote, name="quote"),
    path("quotes/<int:pk>/accept", quotes.quote_accept, name="quote-accept"),
    path("quotes/<int:pk>/withdraw", quotes.quote_withdraw, name="quote-withdraw"),
    path("quotes/<int:pk>/file", quotes.quote_file, name="quote-file"),
    path("jobs/<int:pk>/options", options.job_options, name="job-options"),
    path("jobs/<int:pk>/changes", change_orders.job_changes, name="job-changes"),
    path("jobs/<int:pk>/purchases", purchases.purchase_list, name="purchase-list"),
    path("jobs/<int:pk>/purchases/add", purchases.purchase_add, name="purchase-add"),
    path("purchases/<int:pk>", purchases.purchase_edit, name="purchase-edit"),
    path("purchases/<int:pk>/remove", purchases.purchase_remove, name="purchase-remove"),
    path("jobs/<int:pk>/review", review.job_review, name="job-review"),
    path("jobs/<int:pk>/close", review.job_close, name="job-close"),
    path("jobs/<int:pk>/reopen", review.job_reopen, name="job-reopen"),
    path("jobs/<int:pk>/rates", review.rates_take, name="rates-take"),
    path("q/<str:token>", public.quote_public, name="quote-public"),
    path("q/<str:token>/file", public.quote_public_file, name="quote-public-file"),
]
