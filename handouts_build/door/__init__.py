"""The door for strangers: what somebody sent is unpacked apart, tried within limits, looked at, and only then taken."""
