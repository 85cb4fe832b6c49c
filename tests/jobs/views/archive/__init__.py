"""Looking for jobs and clients; archiving, removing, bringing back."""
