#pragma once

/// What a list of pipes comes to: verdicts and their reasons, the worst rows, refusals by kind, and
/// the facts whose absence leaves most rows open.
///
/// Memory is bounded whatever the list, and the result is the same however rows are split over
/// summaries that are merged in the end.

#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/sheets/survey_sheet.hpp"

namespace slantrule {

/// Groups by text, at most `most` of them. Kept are those whose texts come first in a fixed
/// scattered order, so that which they are, and their counts, depend on no order of arrival.
/// `Group` has `rows` and `merge`.
template <class Group>
class BoundedGroups {
 public:
  explicit BoundedGroups(std::size_t most) : most_(most) {}

  /// Merges `group` into the one of this text.
  void add(std::string_view text, const Group& group) {
    const Key key{scattered(text), std::string(text)};
    if (const auto found = groups_.find(key); found != groups_.end()) {
      found->second.merge(group);
      return;
    }
    groups_.emplace(key, group);
    if (groups_.size() <= most_) return;
    const auto last = std::prev(groups_.end());
    other_rows_ += last->second.rows;
    groups_.erase(last);
  }
  void merge(const BoundedGroups& others) {
    for (const auto& [key, group] : others.groups_) add(key.text, group);
    other_rows_ += others.other_rows_;
  }

  /// Calls `use` with the text and the group of each.
  template <class Use>
  void each(const Use& use) const {
    for (const auto& [key, group] : groups_) use(key.text, group);
  }
  /// In groups that found no room.
  std::size_t other_rows() const { return other_rows_; }

 private:
  struct Key {
    std::uint64_t scattered;
    std::string text;
    auto operator<=>(const Key&) const = default;
  };
  /// FNV-1a, 64 bits (Fowler, Noll and Vo; constants as in draft-eastlake-fnv).
  static std::uint64_t scattered(std::string_view text) {
    std::uint64_t hash = 14695981039346656037U;
    for (char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
    return hash;
  }

  std::size_t most_;
  std::map<Key, Group> groups_;
  std::size_t other_rows_ = 0;
};

/// A number of rows.
struct RowCount {
  std::size_t rows = 0;
  void merge(const RowCount& other) { rows += other.rows; }
};

/// Refusals that differ only in numbers and quoted texts.
struct RefusalGroup {
  static constexpr std::size_t most_lines = 5;
  std::size_t rows = 0;
  std::vector<std::size_t> lines;  ///< the first of them
  std::string column, message;     ///< of the first line
  void merge(const RefusalGroup& other);
};

/// A fact that some rows lack.
struct MissingFact {
  std::size_t rows = 0;
  std::size_t settled = 0;  ///< rows in which nothing else is unknown or refused
  BoundedGroups<RowCount> materials{40};
  void merge(const MissingFact& other);
};

/// A row among the worst.
struct WorstRow {
  std::size_t row = 0, line = 0;
  std::string tag, what;  ///< what: of the candidate that fares worst, or empty
  std::size_t stops = 0, cautions = 0;
  std::optional<double> loss_dB;
  Finding reason;  ///< the gravest
};

/// The facts whose absence a check reports, or a required key does. `key` is the job's, or where no
/// entry of the job would settle it the id of the check.
struct SurveyFact {
  std::string_view key;
  std::string_view what;
  bool by_material = false;  ///< worth telling by the pipe's material
};
std::span<const SurveyFact> survey_facts();
/// Which of them a finding `*.unknown` asks for; nullopt for other findings.
std::optional<std::size_t> survey_fact(CheckId check);
inline constexpr std::size_t most_survey_facts = 64;

class SurveySummary {
 public:
  static constexpr std::size_t most_worst = 10;
  static constexpr std::size_t most_groups = 500;

  struct FindingCount {
    std::size_t stops = 0, cautions = 0;  ///< rows, each by its gravest
  };

  void add(const SurveyRow& row);
  void merge(const SurveySummary& other);

  std::size_t rows() const { return go_ + caution_ + stop_ + refused_; }
  std::size_t go() const { return go_; }
  std::size_t caution() const { return caution_; }
  std::size_t stop() const { return stop_; }
  std::size_t refused() const { return refused_; }
  std::size_t with_remarks() const { return with_remarks_; }
  /// Rows planned with an invented pair, whose spacings must not be mounted.
  std::size_t invented() const { return invented_; }
  const FindingCount& count(CheckId check) const {
    return findings_[static_cast<std::size_t>(check)];
  }
  /// The worst first: by stops, then cautions, then loss, then place in the list.
  const std::vector<WorstRow>& worst() const { return worst_; }
  const BoundedGroups<RefusalGroup>& refusals() const { return refusals_; }
  const MissingFact& missing(std::size_t fact) const { return facts_[fact]; }
  /// By column, of required columns that no fact of the table names.
  const BoundedGroups<MissingFact>& missing_columns() const { return columns_; }

 private:
  struct Unknowns;
  void add_refused(const SurveyRow& row);
  void add_planned(const SurveyRow& row);
  void add_unknowns(const Unknowns& unknowns);
  void add_worst(const SurveyRow& row);
  void keep_worst(WorstRow row);

  std::size_t go_ = 0, caution_ = 0, stop_ = 0, refused_ = 0, with_remarks_ = 0, invented_ = 0;
  std::array<FindingCount, check_count> findings_{};
  std::vector<WorstRow> worst_;
  BoundedGroups<RefusalGroup> refusals_{most_groups};
  std::array<MissingFact, most_survey_facts> facts_{};
  BoundedGroups<MissingFact> columns_{most_groups};
};

/// Below the table of survey_text_header: at most 80 columns, lines ended by '\n'.
std::string survey_summary_text(const SurveySummary& summary, const Display& display);

/// One object on one line, without the line end:
///
///     { rows, go, caution, stop, refused, with_remarks, invented,
///       findings: [ { id, severity, rows, rule } ],
///       missing: [ { key, what, rows, settled, materials? } ], missing_elsewhere?,
///       worst: [ { row, line, tag?, what?, stops, cautions, loss_dB?, id, message, do } ],
///       refusals: [ { column, message, rows, lines } ], refused_elsewhere?,
///       columns_not_used: [ heading ] }
///
/// settled: rows of which that fact is all that is unknown; lines: the first few; message: of the
/// first line.
/// columns_not_used: `unused`, the headings of the list's columns that stand for nothing.
std::string survey_summary_json(const SurveySummary& summary,
                                std::span<const std::string> unused = {});

}  // namespace slantrule
