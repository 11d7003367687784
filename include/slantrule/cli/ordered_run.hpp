#pragma once

/// Work on the blocks of a stream by several threads, with results in the order of the stream.

#include <algorithm>
#include <condition_variable>
#include <cstddef>
#include <exception>
#include <functional>
#include <mutex>
#include <string>
#include <system_error>
#include <thread>
#include <utility>
#include <vector>

namespace slantrule {

/// Takes blocks, works on them and gives results. Each worker holds one block; no more than two
/// results a worker wait for their turn, so that memory is bounded however unlike the blocks are.
///
/// A fault that any of the three throws, or a result that isn't wanted, stops all: blocks at work
/// are finished and dropped, nothing more is taken or given.
template <typename Block>
class OrderedRun {
 public:
  /// Fills the next block; false at the end. One call at a time.
  using Take = std::function<bool(Block&)>;
  /// Makes the result, which is empty at first. Calls run beside each other and beside the others.
  using Work = std::function<void(Block&, std::string&)>;
  /// Passes a result on, in the order in which blocks were taken; false stops. One call at a time.
  using Give = std::function<bool(std::string&&)>;

  OrderedRun(Take take, Work work, Give give)
      : take_(std::move(take)), work_(std::move(work)), give_(std::move(give)) {}

  /// Runs with so many workers, the calling thread being one of them: with one (or none) no thread
  /// is made, and fewer are made where the system refuses more. False if `give` stopped the run.
  /// Throws the first fault. An object runs once.
  bool run(std::size_t workers) {
    results_.resize(2 * std::max<std::size_t>(workers, 1));
    std::vector<std::thread> threads;
    threads.reserve(workers);
    try {
      for (std::size_t i = 1; i < workers; ++i) threads.emplace_back([this] { work_off(); });
    } catch (const std::system_error&) {
      // The others do.
    }
    work_off();
    for (std::thread& thread : threads) thread.join();
    if (fault_) std::rethrow_exception(fault_);
    return !refused_;
  }

 private:
  struct Result {
    std::string text;
    bool ready = false;
  };

  void work_off() {
    Block block{};
    try {
      std::size_t number = 0;
      while (take_next(block, number)) {
        std::string text;
        work_(block, text);
        put(number, std::move(text));
        give_in_turn();
      }
    } catch (...) {
      stop(std::current_exception());
    }
  }

  bool take_next(Block& block, std::size_t& number) {
    const std::lock_guard taking(take_mutex_);
    {
      std::unique_lock lock(mutex_);
      has_room_.wait(lock, [this] { return stopped_ || taken_ - given_ < results_.size(); });
      if (stopped_ || at_end_) return false;
    }
    const bool is_taken = take_(block);
    const std::lock_guard lock(mutex_);
    at_end_ = !is_taken;
    if (is_taken) number = taken_++;
    return is_taken;
  }

  void put(std::size_t number, std::string&& text) {
    const std::lock_guard lock(mutex_);
    Result& result = results_[number % results_.size()];
    result.text = std::move(text);
    result.ready = true;
  }

  /// Gives what is ready, unless another worker is at it, which then gives this too.
  void give_in_turn() {
    std::unique_lock lock(mutex_);
    if (giving_) return;
    giving_ = true;
    for (;;) {
      Result& result = results_[given_ % results_.size()];
      if (stopped_ || !result.ready) break;
      std::string text = std::move(result.text);
      lock.unlock();
      const bool wanted = give_(std::move(text));
      lock.lock();
      result.ready = false;
      ++given_;
      if (!wanted) refused_ = stopped_ = true;
      has_room_.notify_all();
    }
    giving_ = false;
  }

  void stop(std::exception_ptr fault) {
    const std::lock_guard lock(mutex_);
    if (!fault_) fault_ = std::move(fault);
    stopped_ = true;
    has_room_.notify_all();
  }

  Take take_;
  Work work_;
  Give give_;

  std::mutex take_mutex_;  ///< held while a block is taken; locked before the other
  std::mutex mutex_;       ///< guards what follows
  std::condition_variable has_room_;
  std::vector<Result> results_;  ///< block n's at n modulo its size
  std::size_t taken_ = 0;
  std::size_t given_ = 0;
  bool at_end_ = false;
  bool giving_ = false;
  bool stopped_ = false;
  bool refused_ = false;
  std::exception_ptr fault_;
};

}  // namespace slantrule
