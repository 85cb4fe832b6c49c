"""The site as a Django app, so that its static files and commands are found."""

from django.apps import AppConfig


class InstallerSiteConfig(AppConfig):
    """Static files, the health answer and the commands of the whole site."""

    name = "installer_site"
    verbose_name = "Rowbook"
