"""Mail: posted in the transaction that it is about, sent by the worker, never twice by itself."""
