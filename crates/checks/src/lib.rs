//! Checks of the whole house: its arrows, its README, its pages in a real browser.
//!
//! Nothing is built from here. The tests drive the program from outside, the way a person does, so they live apart
//! from the rooms and need what a person needs: a browser, and the commands that the README names.
