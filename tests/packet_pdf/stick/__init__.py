"""The story stick of a packet, followed by the words of its pages."""
