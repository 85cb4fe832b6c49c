"""Calendar links made, renewed and revoked, and what they publish."""
