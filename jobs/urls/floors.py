"""Addresses of rooms, doorways, zones, products and plans."""

from django.urls import URLPattern, path

from jobs.views import plans, products, rooms
from jobs.views.floors import comparison, floors, piles, places, resume, rules, spending
from jobs.views.openings import doorways

urlpatterns: list[URLPattern] = [
    path("products", products.product_list, name="product-list"),
    path("products/add", products.product_add, name="product-add"),
    path("products/<int:pk>", products.product_edit, name="product-edit"),
    path("products/<int:pk>/steps/<slug:step>", products.product_step, name="product-step"),
    path("products/<int:pk>/sheet", products.product_sheet, name="product-sheet"),
    path("jobs/<int:pk>/rooms", rooms.room_list, name="room-list"),
    path("jobs/<int:pk>/rooms/add", rooms.room_add, name="room-add"),
    path("rooms/<int:pk>", rooms.room_edit, name="room-edit"),
    path("rooms/<int:pk>/remove", rooms.room_remove, name="room-remove"),
    path("rooms/<int:pk>/floor", floors.room_floor, name="room-floor"),
    path("rooms/<int:pk>/doorways/add", doorways.doorway_add, name="doorway-add"),
    path("doorways/<int:pk>", doorways.doorway_edit, name="doorway-edit"),
    path("doorways/<int:pk>/remove", doorways.doorway_remove, name="doorway-remove"),
    path("jobs/<int:pk>/floor", floors.zone_list, name="zone-list"),
    path("jobs/<int:pk>/floor/add", floors.zone_add, name="zone-add"),
    path("floors/<int:pk>", floors.zone, name="zone"),
    path("floors/<int:pk>/edit", floors.zone_edit, name="zone-edit"),
    path("floors/<int:pk>/remove", floors.zone_remove, name="zone-remove"),
    path("floors/<int:pk>/place", places.zone_place, name="zone-place"),
    path("floors/<int:pk>/rules", rules.zone_rules, name="zone-rules"),
    path("floors/<int:pk>/break", rules.zone_break, name="zone-break"),
    path("floors/<int:pk>/left", resume.zone_going_on, name="zone-going-on"),
    path("floors/<int:pk>/piles", piles.zone_piles, name="zone-piles"),
    path("floors/<int:pk>/plan", floors.zone_plan, name="zone-plan"),
    path("floors/<int:pk>/progress", floors.zone_progress, name="zone-progress"),
    path("floors/<int:pk>/stop", floors.zone_stop, name="zone-stop"),
    path("plans/<int:pk>", plans.plan, name="plan"),
    path("floors/<int:pk>/compare", comparison.zone_compare, name="zone-compare"),
    path("floors/<int:pk>/compare/stop", comparison.zone_compare_stop, name="zone-compare-stop"),
    path("floors/<int:pk>/take", comparison.zone_take, name="zone-take"),
    path("floors/<int:pk>/spend", spending.zone_spend, name="zone-spend"),
    path("floors/<int:pk>/spend/take", spending.zone_spend_take, name="zone-spend-take"),
    path("plans/<int:pk>/cuts", plans.plan_cuts, name="plan-cuts"),
    path("plans/<int:pk>/drawing", plans.plan_drawing, name="plan-drawing"),
    path("plans/<int:pk>/file", plans.plan_file, name="plan-file"),
    path("plans/<int:pk>/request", plans.plan_request_file, name="plan-request"),
]
