"""Going on with a floor that is partly down."""
