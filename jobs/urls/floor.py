"""Addresses of rooms, doorways, zones, products and plans."""

from django.urls import URLPattern, path

from jobs.views import (
    comparing,
    doorways,
    floor_rules,
    going_on,
    placing,
    plans,
    products,
    rooms,
    zones,
)

urlpatterns: list[URLPattern] = [
    path("products", products.product_list, name="product-list"),
    path("products/add", products.product_add, name="product-add"),
    path("products/<int:pk>", products.product_edit, name="product-edit"),
    path("products/<int:pk>/sheet", products.product_sheet, name="product-sheet"),
    path("jobs/<int:job>/rooms", rooms.room_list, name="room-list"),
    path("jobs/<int:job>/rooms/add", rooms.room_add, name="room-add"),
    path("rooms/<int:pk>", rooms.room_edit, name="room-edit"),
    path("rooms/<int:pk>/remove", rooms.room_remove, name="room-remove"),
    path("rooms/<int:pk>/floor", zones.room_floor, name="room-floor"),
    path("rooms/<int:room>/doorways/add", doorways.doorway_add, name="doorway-add"),
    path("doorways/<int:pk>", doorways.doorway_edit, name="doorway-edit"),
    path("doorways/<int:pk>/remove", doorways.doorway_remove, name="doorway-remove"),
    path("jobs/<int:job>/floor", zones.zone_list, name="zone-list"),
    path("jobs/<int:job>/floor/add", zones.zone_add, name="zone-add"),
    path("floors/<int:pk>", zones.zone, name="zone"),
    path("floors/<int:pk>/edit", zones.zone_edit, name="zone-edit"),
    path("floors/<int:pk>/remove", zones.zone_remove, name="zone-remove"),
    path("floors/<int:pk>/place", placing.zone_place, name="zone-place"),
    path("floors/<int:pk>/rules", floor_rules.zone_rules, name="zone-rules"),
    path("floors/<int:pk>/left", going_on.zone_going_on, name="zone-going-on"),
    path("floors/<int:pk>/plan", zones.zone_plan, name="zone-plan"),
    path("floors/<int:pk>/progress", zones.zone_progress, name="zone-progress"),
    path("floors/<int:pk>/stop", zones.zone_stop, name="zone-stop"),
    path("plans/<int:pk>", plans.plan, name="plan"),
    path("floors/<int:pk>/compare", comparing.zone_compare, name="zone-compare"),
    path("floors/<int:pk>/compare/stop", comparing.zone_compare_stop, name="zone-compare-stop"),
    path("floors/<int:pk>/take", comparing.zone_take, name="zone-take"),
    path("plans/<int:pk>/cuts", plans.plan_cuts, name="plan-cuts"),
    path("plans/<int:pk>/drawing", plans.plan_drawing, name="plan-drawing"),
    path("plans/<int:pk>/file", plans.plan_file, name="plan-file"),
    path("plans/<int:pk>/request", plans.plan_request_file, name="plan-request"),
]
