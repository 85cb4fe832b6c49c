"""The plain-machine script as root on a machine that forgets: install, upgrade, roll back."""
