#include "size_words.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "slantrule/units/suggest.hpp"

namespace slantrule {
namespace {

using enum WordKind;

/// Words that say the same.
struct Group {
  std::string_view texts;  ///< separated by blanks
  WordKind kind;
  std::string_view value = {};
  LabelKind label = LabelKind::none;
  Family family = Family::unknown;
};

// Letters of other alphabets as plain_size_text leaves them: "Ду" is "дy".
constexpr Group groups[] = {
    // Units.
    {"in inch inches zoll pulgada pulgadas pulg pollici pouce pouces cali дюйm", inch},
    {"mm millimetre millimetres millimeter millimeters", millimetre},
    {"cm", centimetre},
    {"m metre meter", metre},
    {"ft feet", foot},
    // What the number beside is.
    {"nps", nps},
    {"dn dy du nw дy", dn},
    {"дh dh", dn_or_outside},
    {"nb nom nominal nominalbore nominalsize nominaldiameter", nominal},
    {"od d de da dnod dia diameter ad outsidediameter outsidedia outside outerdiameter", outside},
    {"id bore insidediameter innerdiameter", inside},
    {"size", size},
    {"wall wallthickness wt thk thick thickness w", wall},
    {"t e", wall_if_equals},
    {"l lg len length long", length},
    {"x by", times},
    {"was formerly originally or to", or_else},
    // Walls by name.
    {"sch sched schedule schd scd cedula ced", schedule},
    {"s", s_schedule},
    {"std standard standardweight standardwall standardwt stdwt stdweight stdwall", label, "STD",
     LabelKind::weight},
    {"xs xh xstrong xstg xheavy xhvy extrastrong exstrong extraheavy", label, "XS",
     LabelKind::weight},
    {"xxs xxh xxstrong xxstg doubleextrastrong doubleextraheavy dblextrastrong "
     "dblextraheavy",
     label, "XXS", LabelKind::weight},
    {"medium med mediumweight seriem seriesm seriemedia", label, "medium",
     LabelKind::threaded_weight},
    {"heavy hvy heavyweight serieh seriesh seriepesada", label, "heavy",
     LabelKind::threaded_weight},
    {"light seriel", label, "light", LabelKind::threaded_weight},
    {"typek tipok", label, "type K", LabelKind::copper_type},
    {"typel tipol", label, "type L", LabelKind::copper_type},
    {"typem tipom", label, "type M", LabelKind::copper_type},
    {"regular regularweight", label, "regular", LabelKind::copper_weight},
    {"special1", label, "special 1", LabelKind::copper_weight},
    {"special2", label, "special 2", LabelKind::copper_weight},
    {"special3", label, "special 3", LabelKind::copper_weight},
    {"special4", label, "special 4", LabelKind::copper_weight},
    {"special5", label, "special 5", LabelKind::copper_weight},
    {"sdr dr", ratio},
    {"class cl pc pressureclass clase klasse", pressure_class},
    {"tc thicknessclass specialthicknessclass", thickness_class},
    {"k7", label, "K7", LabelKind::k_class},
    {"k8", label, "K8", LabelKind::k_class},
    {"k9", label, "K9", LabelKind::k_class},
    {"k10", label, "K10", LabelKind::k_class},
    {"k12", label, "K12", LabelKind::k_class},
    {"c20", label, "C20", LabelKind::c_class},
    {"c25", label, "C25", LabelKind::c_class},
    {"c30", label, "C30", LabelKind::c_class},
    {"c40", label, "C40", LabelKind::c_class},
    {"c50", label, "C50", LabelKind::c_class},
    {"c64", label, "C64", LabelKind::c_class},
    {"c100", label, "C100", LabelKind::c_class},
    {"pn", nominal_pressure},
    {"lb lbs", pounds},
    {"npt nptf", taper_thread},
    {"bsp bspt bspp", pipe_thread},
    {"g r rc rp", thread_letter},
    {"ips ipsod", iron_pipe_sizes},
    {"dips diod ciod dipsod", cast_iron_sizes},
    {"cts ctsod", copper_sizes},
    {"tube tubes tubing", tube},
    {"pipe pipes piping tpyбa", pipe},
    // Materials.
    {"steel stl st ct ctaль ctaльhaя stahl acero acciaio acier celik stal", material,
     "carbon steel", LabelKind::none, Family::steel},
    {"cs carbonsteel carbonstl csteel mildsteel blacksteel galvanisedsteel "
     "galvanizedsteel galvsteel galvanised galvanized galvanisediron galvanizediron "
     "galv gal ga gi pocincanicelik",
     material, "carbon steel", LabelKind::none, Family::carbon_steel},
    {"ss sst stainless stainlesssteel inox edelstahl nehrdajucicelik duplex "
     "duplexstainless duplexstainlesssteel",
     material, "stainless steel", LabelKind::none, Family::stainless},
    {"copper cu co cop cobre kupfer", material, "copper", LabelKind::none, Family::copper},
    {"cuni coppernickel cupronickel", material, "copper-nickel", LabelKind::none,
     Family::copper_nickel},
    {"pvc pvcu upvc fuspvc fpvc", material, "PVC", LabelKind::none, Family::pvc},
    {"cpvc pvcc", material, "CPVC", LabelKind::none, Family::cpvc},
    {"pvco opvc", material, "PVC-O", LabelKind::none, Family::other},
    {"pe hdpe pehd mdpe pemd pead poly polye polyethylene пэ", material, "PE", LabelKind::none,
     Family::pe},
    {"di dip dicl dipl ductile ductileiron ductilecastiron sgiron ggg", material, "ductile iron",
     LabelKind::none, Family::ductile_iron},
    {"ci cip cas cicl castiron greyiron grayiron", material, grey_iron, LabelKind::none,
     Family::other},
    {"ac acp asb tra trans asbestoscement", material, "asbestos cement", LabelKind::none,
     Family::other},
    {"con conc concrete cp cpp csc pcc pccp", material, "concrete", LabelKind::none, Family::other},
    {"grp frp gfk rtr rtrp fiberglass", material, "GRP", LabelKind::none, Family::other},
    {"pex", material, "PEX", LabelKind::none, Family::other},
    {"pp pph ppr polypropylene", material, "PP", LabelKind::none, Family::other},
    {"pvdf", material, "PVDF", LabelKind::none, Family::other},
    {"abs", material, "ABS", LabelKind::none, Family::other},
    {"al alu aluminium aluminum", material, "aluminium", LabelKind::none, Family::other},
    {"ti titanium", material, "titanium", LabelKind::none, Family::other},
    {"brass", material, "brass", LabelKind::none, Family::other},
    // Grades and standards that say the material only.
    {"a53 a53b a105 a106 a106b a106c a134 a135 a139 a252 a333 a335 a671 a672 api5l x42 "
     "x46 x52 x56 x60 x65 x70 l245 l360 p195tr1 p195tr2 p195gh p235 p235gh p235tr1 "
     "p235tr2 p265gh s195t s235 s235jr s235jrh s275 s275jr s355 s355j2h s355j2 st35 "
     "st358 st37 st370 st52 ct3 ct10 ct20 ctaль3 ctaль10 ctaль20 en10216 en102161 en102162 en10217 "
     "en102171 en102172 din2448 din2458",
     grade, "carbon steel", LabelKind::none, Family::carbon_steel},
    {"гoct10704 гoct1070491 гoct10705 гoct1070580 гoct8731 гoct873174 гoct8732 "
     "гoct873278 гoct8734 гoct873475 гoct3262 гoct326275 гoct20295 гoct2029585",
     grade, "carbon steel", LabelKind::none, Family::carbon_steel},
    {"гoct9940 гoct994081 гoct9941 гoct994181", grade, "stainless steel", LabelKind::none,
     Family::stainless},
    {"a312 a358 a790 en102165 en102177 iso1127 304 304l 304ss 304lss 316 316l 316ss 316lss "
     "316ti 321 321ss 347 ss304 ss304l ss316 ss316l tp304 tp304l tp316 tp316l "
     "tp316ti tp321 aisi304 aisi304l aisi316 aisi316l s30400 s30403 s31600 s31603 "
     "s31803 s32205 2205 sus304 sus316 sus304tp sus316tp",
     grade, "stainless steel", LabelKind::none, Family::stainless},
    {"pe100 pe100rc pe80 пэ100 пэ80 pe4710 pe3408 pe3608 pe2406 hdpe100", grade, "PE",
     LabelKind::none, Family::pe},
    {"cuni9010 cuni7030 cuni10 cuni30 cuni10fe cuni10fe1mn c70600 c71500", grade, "copper-nickel",
     LabelKind::none, Family::copper_nickel},
    {"c12200", grade, "copper", LabelKind::none, Family::copper},
    {"en1452 iso1452", grade, "PVC", LabelKind::none, Family::pvc},
    {"gr grade", grade_of},
    // Standards of the tables.
    {"b3610 b3610m", standard, "ASME B36.10M"},
    {"b3619 b3619m", standard, "ASME B36.19M"},
    {"b42", standard, "ASTM B42", LabelKind::none, Family::copper},
    {"b466", standard, "ASTM B466", LabelKind::none, Family::copper_nickel},
    {"b88", standard, "ASTM B88", LabelKind::none, Family::copper},
    {"d1785", standard, "ASTM D1785", LabelKind::none, Family::pvc},
    {"d2241", standard, "ASTM D2241", LabelKind::none, Family::pvc},
    {"f441", standard, "ASTM F441", LabelKind::none, Family::cpvc},
    {"f714", standard, "ASTM F714", LabelKind::none, Family::pe},
    {"c151", standard, "AWWA C151", LabelKind::none, Family::ductile_iron},
    {"c900", standard, "AWWA C900", LabelKind::none, Family::pvc},
    {"c905", standard, "AWWA C905", LabelKind::none, Family::pvc},
    {"en10220 iso4200", standard, "EN 10220"},
    {"en10255 bs1387 iso65", standard, "EN 10255", LabelKind::none, Family::carbon_steel},
    {"en1057", standard, "EN 1057", LabelKind::none, Family::copper},
    {"en545", standard, "EN 545", LabelKind::none, Family::ductile_iron},
    {"iso2531", standard, "ISO 2531", LabelKind::none, Family::ductile_iron},
    {"iso4427 iso44272 en12201 en122012", standard, "ISO 4427", LabelKind::none, Family::pe},
    {"g3452 sgp", standard, "JIS G 3452", LabelKind::none, Family::carbon_steel},
    {"g3454 stpg stpg370", standard, "JIS G 3454", LabelKind::none, Family::carbon_steel},
    {"asme ansi astm awwa jis din bs en iso api aisi uns гoct gost", authority},
    // No part of the size.
    {"smls seamless erw efw hfw hfi saw lsaw ssaw dsaw welded wld be bbe bw pbe tbe "
     "psl1 psl2 blk hdg tb tubo tuberia rohr cev cijev rura cano tuyau tuyaux stahlrohr tp mп "
     "water main line "
     "flange flanged rf rtj drawn annealed hard",
     aside},
    // Wall gauges; "ga" alone is galvanised steel.
    {"gauge gage bwg swg awg", gauge},
    {"approx approximately about ca circa", doubt},
    // Nothing is known.
    {"unknown unk tbd tbc null na none nil oth other seephoto notknown missing nan", missing},
};

constexpr std::size_t word_count = [] {
  std::size_t n = 0;
  for (const Group& group : groups)
    n += 1 + static_cast<std::size_t>(std::ranges::count(group.texts, ' '));
  return n;
}();

constexpr auto words = [] {
  std::array<Word, word_count> table;
  std::size_t n = 0;
  for (const Group& group : groups) {
    for (std::string_view rest = group.texts; !rest.empty();) {
      const std::size_t end = std::min(rest.find(' '), rest.size());
      table[n++] = {rest.substr(0, end), group.kind, group.value, group.label, group.family};
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
  }
  std::ranges::sort(table, {}, &Word::text);
  return table;
}();
/// Where the words of each first byte start.
constexpr auto starts = [] {
  std::array<std::size_t, 257> at{};
  for (const Word& word : words) ++at[static_cast<unsigned char>(word.text.front()) + 1U];
  for (std::size_t i = 1; i < at.size(); ++i) at[i] += at[i - 1];
  return at;
}();

static_assert(std::ranges::adjacent_find(words, {}, &Word::text) == words.end());
static_assert(std::ranges::all_of(words, [](const Word& word) {
  return word.text.size() <= longest_word;
}));

}  // namespace

const Word* find_word(std::string_view text) {
  if (text.empty()) return nullptr;
  const std::size_t first = static_cast<unsigned char>(text.front());
  const auto* end = words.data() + starts[first + 1];
  const auto* word = std::lower_bound(
      words.data() + starts[first], end, text,
      [](const Word& known, std::string_view wanted) { return known.text < wanted; });
  return word != end && word->text == text ? word : nullptr;
}

std::string_view family_name(Family family) {
  switch (family) {
    case Family::steel:
    case Family::carbon_steel:
      return "carbon steel";
    case Family::stainless:
      return "stainless steel";
    case Family::copper:
      return "copper";
    case Family::copper_nickel:
      return "copper-nickel";
    case Family::pvc:
      return "PVC";
    case Family::cpvc:
      return "CPVC";
    case Family::pe:
      return "PE";
    case Family::ductile_iron:
      return "ductile iron";
    case Family::unknown:
    case Family::other:
      break;
  }
  return {};
}

Material material_of(std::string_view text) {
  const std::string folded = folded_name(text);
  if (folded.empty()) return {};
  const auto has = [&](std::string_view word) { return folded.find(word) != std::string::npos; };
  if (has("stainless") || has("duplex")) return {Family::stainless, "stainless steel"};

  static constexpr std::array<std::pair<std::string_view, Material>, 16> beginnings{{
      {"carbon_steel", {Family::carbon_steel, "carbon steel"}},
      {"cuni", {Family::copper_nickel, "copper-nickel"}},
      {"copper_nickel", {Family::copper_nickel, "copper-nickel"}},
      {"copper", {Family::copper, "copper"}},
      {"cpvc", {Family::cpvc, "CPVC"}},
      {"pvc", {Family::pvc, "PVC"}},
      {"pe_pipe", {Family::pe, "PE"}},
      {"hdpe", {Family::pe, "PE"}},
      {"mdpe", {Family::pe, "PE"}},
      {"ductile_iron", {Family::ductile_iron, "ductile iron"}},
      {"cast_iron", {Family::other, grey_iron}},
      {"asbestos_cement", {Family::other, "asbestos cement"}},
      {"concrete", {Family::other, "concrete"}},
      {"grp", {Family::other, "GRP"}},
      {"titanium", {Family::other, "titanium"}},
      {"aluminium", {Family::other, "aluminium"}},
  }};
  for (const auto& [beginning, material] : beginnings) {
    if (folded.starts_with(beginning)) return material;
  }
  if (folded == "pe") return {Family::pe, "PE"};
  if (has("steel")) return {Family::carbon_steel, "carbon steel"};
  // Any other word for a known material; else what the caller calls it.
  std::string joined;
  std::ranges::copy_if(folded, std::back_inserter(joined), [](char c) { return c != '_'; });
  const Word* word = find_word(joined);
  if (word && word->family != Family::unknown) return {word->family, word->value};
  return {Family::other, text};
}

}  // namespace slantrule
