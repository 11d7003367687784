#pragma once

/// Ctrl-C and its like as a question that loops ask, so that rows stay whole.

namespace slantrule::cli {

/// From here on SIGINT, SIGTERM and SIGHUP are noted instead of ending the program at once; a
/// second one ends it.
void note_stop_signals();

/// Whether one has come.
bool stop_asked();

}  // namespace slantrule::cli
