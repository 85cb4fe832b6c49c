"""Addresses of prices, estimates and quotes."""

from django.urls import URLPattern, path

from estimates.views import prices, public, quotes

urlpatterns: list[URLPattern] = [
    path("prices", prices.price_list, name="price-list"),
    path("prices/set", prices.price_set, name="price-set"),
    path("prices/terms", prices.price_terms, name="price-terms"),
    path("jobs/<int:pk>/price", quotes.job_price, name="job-price"),
    path("estimates/<int:pk>", quotes.estimate, name="estimate"),
    path("estimates/<int:pk>/issue", quotes.quote_issue, name="quote-issue"),
    path("jobs/<int:pk>/quotes", quotes.job_quotes, name="job-quotes"),
    path("quotes/<int:pk>", quotes.quote, name="quote"),
    path("quotes/<int:pk>/accept", quotes.quote_accept, name="quote-accept"),
    path("quotes/<int:pk>/withdraw", quotes.quote_withdraw, name="quote-withdraw"),
    path("quotes/<int:pk>/file", quotes.quote_file, name="quote-file"),
    path("q/<str:token>", public.quote_public, name="quote-public"),
    path("q/<str:token>/file", public.quote_public_file, name="quote-public-file"),
]
