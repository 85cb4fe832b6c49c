"""Addresses of copies, and of the notes and photographs of rooms."""

from django.urls import URLPattern, path

from jobs.views.copies import copies
from jobs.views.notes import notes

urlpatterns: list[URLPattern] = [
    path("jobs/<int:pk>/copy", copies.job_copy, name="job-copy"),
    path("rooms/<int:pk>/copy", copies.room_copy, name="room-copy"),
    path("floors/<int:pk>/copy", copies.zone_copy, name="zone-copy"),
    path("rooms/<int:pk>/notes", notes.room_notes, name="room-notes"),
    path("room-notes/<int:pk>", notes.room_note, name="room-note"),
    path("room-notes/<int:pk>/photo", notes.room_note_photo, name="room-note-photo"),
    path("room-notes/<int:pk>/remove", notes.room_note_remove, name="room-note-remove"),
]
