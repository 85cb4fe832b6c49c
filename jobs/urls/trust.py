"""Addresses of what keeps the book safe."""

from django.urls import URLPattern, path

from jobs.views.trust import audit, backups, sessions

urlpatterns: list[URLPattern] = [
    path("company/backups", backups.backup_list, name="backup-list"),
    path("company/backups/make", backups.backup_make, name="backup-make"),
    path("company/backups/progress", backups.backup_progress, name="backup-progress"),
    path("company/audit", audit.audit_list, name="audit-list"),
    path("company/people/<int:pk>/sessions", sessions.person_sessions, name="person-sessions"),
    path(
        "company/people/<int:pk>/sessions/end",
        sessions.person_sessions_end,
        name="person-sessions-end",
    ),
    path("sessions", sessions.session_list, name="session-list"),
    path("sessions/end-others", sessions.session_end_others, name="session-end-others"),
    path("sessions/<int:pk>/end", sessions.session_end, name="session-end"),
]
