"""The crew board and calendar links, driven by a browser."""
