// Order, bounds and ends of a run by several threads. Delays come from a fixed seed.

#include "slantrule/cli/ordered_run.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <mutex>
#include <random>
#include <set>
#include <stdexcept>
#include <string>
#include <thread>

using namespace slantrule;

namespace {

using Run = OrderedRun<int>;

/// Takes 0, 1, ... below `end`.
Run::Take numbers_below(int end) {
  return [end, next = 0](int& block) mutable {
    if (next == end) return false;
    block = next++;
    return true;
  };
}

void pause(std::chrono::microseconds time) {
  std::this_thread::sleep_for(time);
}

/// Between nothing and 2 ms, by number.
void pause_by(int number) {
  std::mt19937 random(static_cast<unsigned>(number));
  pause(std::chrono::microseconds(random() % 2000));
}

std::string joined(int end) {
  std::string text;
  for (int i = 0; i < end; ++i) text += std::to_string(i) + ' ';
  return text;
}

}  // namespace

TEST_CASE("ordered run: results come in the order of the blocks, each once") {
  for (const std::size_t workers : {0u, 1u, 2u, 3u, 8u}) {
    CAPTURE(workers);
    std::string all;
    Run run(
        numbers_below(200),
        [](int& block, std::string& out) {
          pause_by(block);
          out += std::to_string(block) + ' ';
        },
        [&all](std::string&& text) {
          all += text;
          return true;
        });
    CHECK(run.run(workers));
    CHECK(all == joined(200));
  }
}

TEST_CASE("ordered run: nothing to do") {
  for (const std::size_t workers : {1u, 4u}) {
    Run run(
        numbers_below(0), [](int&, std::string&) { throw std::logic_error("nothing was taken"); },
        [](std::string&&) { return false; });
    CHECK(run.run(workers));
  }
}

TEST_CASE("ordered run: one worker is the calling thread, several are that many") {
  const auto threads_of = [](std::size_t workers) {
    std::mutex mutex;
    std::set<std::thread::id> threads;
    Run run(
        numbers_below(100),
        [&](int&, std::string&) {
          {
            const std::lock_guard lock(mutex);
            threads.insert(std::this_thread::get_id());
          }
          pause(std::chrono::microseconds(500));
        },
        [](std::string&&) { return true; });
    run.run(workers);
    return threads;
  };
  CHECK(threads_of(1) == std::set{std::this_thread::get_id()});
  CHECK(threads_of(4).size() > 1);
  CHECK(threads_of(4).size() <= 4);
}

TEST_CASE("ordered run: take and give run one at a time, work beside the others") {
  std::atomic<int> taking = 0;
  std::atomic<int> giving = 0;
  std::atomic<int> working = 0;
  std::atomic<int> most_working = 0;
  std::atomic<bool> alone = true;
  const Run::Take numbers = numbers_below(100);
  Run run(
      [&](int& block) {
        if (++taking != 1) alone = false;
        pause(std::chrono::microseconds(100));
        const bool taken = numbers(block);
        --taking;
        return taken;
      },
      [&](int& block, std::string&) {
        const int now = ++working;
        for (int most = most_working; now > most;) most_working.compare_exchange_weak(most, now);
        pause_by(block);
        --working;
      },
      [&](std::string&&) {
        if (++giving != 1) alone = false;
        pause(std::chrono::microseconds(100));
        --giving;
        return true;
      });
  CHECK(run.run(4));
  CHECK(alone);
  CHECK(most_working > 1);
  CHECK(most_working <= 4);
}

TEST_CASE("ordered run: a worker that is ahead waits") {
  constexpr int workers = 3;
  std::atomic<int> taken = 0;
  std::atomic<int> given = 0;
  std::atomic<int> most_open = 0;
  const Run::Take numbers = numbers_below(60);
  Run run(
      [&](int& block) {
        if (!numbers(block)) return false;
        const int open = ++taken - given;
        for (int most = most_open; open > most;) most_open.compare_exchange_weak(most, open);
        return true;
      },
      [&](int& block, std::string&) {
        // The first holds up all others until no more may be taken, and a little longer.
        for (int i = 0; block == 0 && taken < 2 * workers && i < 10'000; ++i) {
          pause(std::chrono::milliseconds(1));
        }
        if (block == 0) pause(std::chrono::milliseconds(20));
      },
      [&](std::string&&) {
        ++given;
        return true;
      });
  CHECK(run.run(workers));
  CHECK(given == 60);
  // The others went ahead of the first, as far as they may.
  CHECK(most_open == 2 * workers);
}

TEST_CASE("ordered run: a refused result stops the run") {
  for (const std::size_t workers : {1u, 4u}) {
    CAPTURE(workers);
    std::atomic<int> taken = 0;
    int given = 0;
    Run run(
        [&taken](int& block) {
          block = taken++;
          return true;
        },
        [](int& block, std::string&) { pause_by(block); },
        [&given](std::string&&) { return ++given < 10; });
    CHECK_FALSE(run.run(workers));
    CHECK(given == 10);
    CHECK(taken <= 10 + 2 * static_cast<int>(workers));
  }
}

TEST_CASE("ordered run: a fault stops the run and comes to the caller") {
  for (const std::size_t workers : {1u, 4u}) {
    for (const std::string place : {"take", "work", "give"}) {
      CAPTURE(workers, place);
      const auto fail_in = [&place](const std::string& here, int number) {
        if (here == place && number == 20) throw std::runtime_error("fault in " + place);
      };
      int taken = 0;
      int given = 0;
      std::string all;
      Run run(
          [&](int& block) {
            block = taken++;
            fail_in("take", block);
            return true;
          },
          [&](int& block, std::string& out) {
            pause_by(block);
            fail_in("work", block);
            out = std::to_string(block) + ' ';
          },
          [&](std::string&& text) {
            fail_in("give", given++);
            all += text;
            return true;
          });
      CHECK_THROWS_WITH(run.run(workers), "fault in " + place);
      // What was given is the start of it all, without gaps.
      CHECK(joined(20).starts_with(all));
      CHECK(taken <= 21 + 2 * static_cast<int>(workers));
    }
  }
}
