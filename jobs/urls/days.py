"""Addresses of days, packets and logs."""

from django.urls import URLPattern, path

from jobs.views import days, log, packets
from jobs.views.crews_day import page
from jobs.views.day_log import answers, crew_log
from jobs.views.days_facts import leaving, nights
from jobs.views.extras import extras
from jobs.views.moved_days import change
from jobs.views.penciled import pencil

urlpatterns: list[URLPattern] = [
    path("days", days.day_list, name="day-list"),
    path("days/today", page.today_page, name="today"),
    path("days/seal", log.log_seal, name="log-seal"),
    path("days/log-worker.js", log.log_worker, name="log-worker"),
    path("days/<int:pk>", days.day, name="day"),
    path("days/<int:pk>/lost", change.day_lost, name="day-lost"),
    path("days/<int:pk>/move", change.day_move, name="day-move"),
    path("days/<int:pk>/hold", change.day_hold, name="day-hold"),
    path("days/<int:pk>/split", change.day_split, name="day-split"),
    path("days/changes/<int:pk>/undo", change.days_undo, name="days-undo"),
    path("days/<int:pk>/log", log.log_add, name="log-add"),
    path("days/log/<int:pk>/photo", log.log_photo, name="log-photo"),
    path("days/log/<int:pk>/hours", answers.log_hours, name="log-hours"),
    path("days/log/shots/<int:pk>", crew_log.log_shot, name="log-shot"),
    path("jobs/<int:pk>/holds/<slug:code>/go-on", answers.hold_let_go, name="hold-let-go"),
    path("days/log/<int:pk>/remove", log.log_remove, name="log-remove"),
    path("crews/<int:pk>/days.ics", days.calendar_file, name="crew-calendar"),
    path("crews/<int:pk>/leaving", leaving.crew_leaving, name="crew-leaving"),
    path("jobs/<int:pk>/days", days.job_days, name="job-days"),
    path("jobs/<int:pk>/days/pencil", pencil.pencil, name="job-pencil"),
    path("jobs/<int:pk>/days/pencil/price", pencil.pencil_price, name="pencil-price"),
    path("jobs/<int:pk>/days/pencil/out", pencil.pencil_out, name="pencil-out"),
    path("jobs/<int:pk>/nights", nights.nights, name="job-nights"),
    path("jobs/<int:pk>/log", log.job_log, name="job-log"),
    path("jobs/<int:pk>/extras/add", extras.extra_ask, name="extra-ask"),
    path("extras/<int:pk>/photo", extras.extra_photo, name="extra-photo"),
    path("extras/<int:pk>/drop", extras.extra_drop, name="extra-drop"),
    path("jobs/<int:pk>/packets", packets.packet_list, name="packet-list"),
    path("jobs/<int:pk>/packets/print", packets.packet_print, name="packet-print"),
    path("jobs/<int:pk>/packets/progress", packets.packet_progress, name="packet-progress"),
    path("jobs/<int:pk>/packets/stop", packets.packet_stop, name="packet-stop"),
    path("packets/<int:pk>", packets.packet_file, name="packet-file"),
    path("packets/<int:pk>/changed", packets.packet_changed, name="packet-changed"),
]
