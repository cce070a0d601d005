"""The caution that stands on every window, page and command's help."""

PLAIN = (
    "Research and education. Not a medical device. Every plan must be checked by qualified, licensed staff under local "
    "rules before it is used for anything."
)


def caution() -> str:
    """Return the caution in the person's language."""
    from PySide6.QtCore import QCoreApplication

    return QCoreApplication.translate(
        "Caution",
        "Research and education. Not a medical device. Every plan must be checked by qualified, licensed staff under local "
        "rules before it is used for anything.",
    )
