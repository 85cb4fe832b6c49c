"""The words of a packet that come of its own figures: how strips are read, how a stick is slid."""
