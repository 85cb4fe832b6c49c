"""The draft of a quote, its preview, and the word to issue it."""
