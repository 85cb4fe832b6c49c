"""A site as it runs in earnest, and many people at it: load, kills, full disks, two of each part.

Everything here runs real servers (gunicorn as the image starts it) and real workers.
"""
