"""The arithmetic of jobs: pure, handed everything it needs."""
