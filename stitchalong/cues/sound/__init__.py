"""Cues made audible: one helper process for tones and voice, the terminal's bell where that fails.

`outlet` is what a front end uses, `settings` what a person can choose, `doctor` what can be told about this
machine. The rest runs in the helper process (`python -m stitchalong.cues.sound.helper`), where a library that
hangs, crashes or writes on the terminal harms nobody.
"""
