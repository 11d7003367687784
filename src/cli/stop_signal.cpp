#include "slantrule/cli/stop_signal.hpp"

#include <csignal>
#include <initializer_list>

namespace slantrule::cli {
namespace {

volatile std::sig_atomic_t asked = 0;

void on_signal(int) {
  asked = 1;
}

}  // namespace

void note_stop_signals() {
  for (int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction action {};
    action.sa_handler = on_signal;
    // The second one does what it always did; without SA_RESTART a read that waits comes back.
    action.sa_flags = static_cast<int>(SA_RESETHAND);
    sigemptyset(&action.sa_mask);
    ::sigaction(signal, &action, nullptr);
  }
}

bool stop_asked() {
  return asked != 0;
}

}  // namespace slantrule::cli
