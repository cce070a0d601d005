"""One patient's planning work as one value, the edits that change it and the requests it makes."""
