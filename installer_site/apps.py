"""The site as a Django app, so that its static files and commands are found."""

from django.apps import AppConfig


class InstallerSiteConfig(AppConfig):
    """Static files, the health answer and the commands of the whole site."""

    name = "installer_site"
    verbose_name = "Rowbook"

    def ready(self) -> None:
        """Have each sign-in noted, so that its person can see and end it."""
        from django.contrib.auth.signals import user_logged_in

        from jobs.services.sign_in.sessions import note_sign_in

        user_logged_in.connect(note_sign_in, dispatch_uid="note_sign_in")
