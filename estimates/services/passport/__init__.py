"""The link of a floor passport: made, renewed where it got into the wrong hands, revoked."""
