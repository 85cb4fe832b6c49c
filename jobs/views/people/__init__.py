"""Pages of sign-in, clients, people and the company."""
