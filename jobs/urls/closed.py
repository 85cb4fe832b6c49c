"""Addresses of what comes after a job was closed: callbacks, corrections, planks left over."""

from django.urls import URLPattern, path

from jobs.views.closed import callbacks, corrections
from jobs.views.floors import stock

urlpatterns: list[URLPattern] = [
    path("jobs/<int:pk>/callbacks/add", callbacks.callback_add, name="callback-add"),
    path("callbacks/<int:pk>", callbacks.callback, name="callback"),
    path("jobs/<int:pk>/log/corrections", corrections.log_corrections, name="log-corrections"),
    path("days/log/<int:pk>/correct", corrections.log_correct, name="log-correct"),
    path("stock", stock.stock_list, name="stock-list"),
    path("floors/<int:pk>/stock/<int:stock>/take", stock.stock_take, name="stock-take"),
    path("floors/<int:pk>/stock/<int:stock>/back", stock.stock_give_back, name="stock-back"),
]
