// What bytes mean as text. The tables are compared with what iconv of the GNU C library 2.36 gives
// for the bytes 0x80 to 0xFF, which is independent of the mapping files that the code cites.

#include "slantrule/files/text_encoding.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace slantrule;

namespace {

std::string upper_half(TextEncoding page) {
  std::string bytes;
  for (int byte = 0x80; byte <= 0xFF; ++byte) bytes += static_cast<char>(byte);
  std::string text;
  append_as_utf8(bytes, page, text);
  return text;
}

TextEncoding page_of(std::string_view bytes) {
  CodePageEvidence evidence;
  evidence.add(bytes);
  return evidence.page();
}

std::string from_utf16(std::string_view bytes, bool big_endian, std::size_t piece) {
  Utf16Decoder decoder(big_endian);
  std::string text;
  for (std::size_t at = 0; at < bytes.size(); at += piece) {
    decoder.append(bytes.substr(at, piece), text);
  }
  decoder.finish(text);
  return text;
}

}  // namespace

TEST_CASE("encoding: the code pages, byte by byte") {
  CHECK(upper_half(TextEncoding::windows_1252) ==
        "€\uFFFD‚ƒ„…†‡ˆ‰Š‹Œ\uFFFDŽ\uFFFD"
        "\uFFFD‘’“”•–—˜™š›œ\uFFFDžŸ"
        "\u00A0¡¢£¤¥¦§¨©ª«¬\u00AD®¯"
        "°±²³´µ¶·¸¹º»¼½¾¿"
        "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏ"
        "ÐÑÒÓÔÕÖ×ØÙÚÛÜÝÞß"
        "àáâãäåæçèéêëìíîï"
        "ðñòóôõö÷øùúûüýþÿ");
  CHECK(upper_half(TextEncoding::windows_1250) ==
        "€\uFFFD‚\uFFFD„…†‡\uFFFD‰Š‹ŚŤŽŹ"
        "\uFFFD‘’“”•–—\uFFFD™š›śťžź"
        "\u00A0ˇ˘Ł¤Ą¦§¨©Ş«¬\u00AD®Ż"
        "°±˛ł´µ¶·¸ąş»Ľ˝ľż"
        "ŔÁÂĂÄĹĆÇČÉĘËĚÍÎĎ"
        "ĐŃŇÓÔŐÖ×ŘŮÚŰÜÝŢß"
        "ŕáâăäĺćçčéęëěíîď"
        "đńňóôőö÷řůúűüýţ˙");
  CHECK(upper_half(TextEncoding::windows_1251) ==
        "ЂЃ‚ѓ„…†‡€‰Љ‹ЊЌЋЏ"
        "ђ‘’“”•–—\uFFFD™љ›њќћџ"
        "\u00A0ЎўЈ¤Ґ¦§Ё©Є«¬\u00AD®Ї"
        "°±Ііґµ¶·ё№є»јЅѕї"
        "АБВГДЕЖЗИЙКЛМНОП"
        "РСТУФХЦЧШЩЪЫЬЭЮЯ"
        "абвгдежзийклмноп"
        "рстуфхцчшщъыьэюя");
  for (int byte = 0; byte < 0x80; ++byte) {
    for (const TextEncoding page : {TextEncoding::windows_1250, TextEncoding::windows_1251}) {
      CHECK(code_page_character(static_cast<unsigned char>(byte), page) ==
            static_cast<char32_t>(byte));
    }
  }
}

TEST_CASE("encoding: UTF-8 is what The Unicode Standard, table 3-7, allows") {
  // Rows of the table, at both ends.
  for (const std::string_view good :
       {"\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
        "\xEF\xBF\xBF", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
    CAPTURE(good);
    CHECK(utf8_sequence_bytes(good) == good.size());
    CHECK(is_utf8(good));
    CHECK(is_utf8(good.substr(0, good.size() - 1)) == (good.size() == 1));
  }
  // Overlong forms, surrogates, beyond U+10FFFF, a continuation alone.
  for (const std::string_view bad : {"\xC0\x80", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80",
                                     "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80", "\x80"}) {
    CHECK(utf8_sequence_bytes(bad) == 0);
    CHECK_FALSE(is_utf8(bad));
  }
  CHECK(is_utf8(""));
  CHECK(is_ascii("plain text of more than eight bytes\n"));
  CHECK_FALSE(is_ascii("12345678\x80"));
  CHECK_FALSE(
      is_ascii("\x80"
               "12345678"));
  std::string mended;
  append_as_utf8("a\xE8\xC3\xB8\xC3", TextEncoding::utf8, mended);
  CHECK(mended == "a\xEF\xBF\xBD\xC3\xB8\xEF\xBF\xBD");
}

TEST_CASE("encoding: words of lists tell the two code pages apart") {
  // Headings and cells as such lists have them, beside their bytes.
  const auto page = TextEncoding::windows_1250;
  CHECK(page_of("Pocin\xE8"
                "ani \xE8"
                "elik") == page);  // Pocinčani čelik
  CHECK(page_of("Nehr\xF0"
                "aju\xE6i \xE8"
                "elik") == page);  // Nehrđajući čelik
  CHECK(page_of("\xE8"
                "eli\xE8ne cijevi") == page);  // čelične cijevi
  CHECK(page_of("ku\xE6ni priklju\xE8"
                "ak") == page);                           // kućni priključak
  CHECK(page_of("r\xF3\xBFnica ci\x9Cnie\xF1") == page);  // różnica ciśnień
  CHECK(page_of("\xBF"
                "eliwo") == page);                  // żeliwo
  CHECK(page_of("Materia\xB3") == page);            // Materiał
  CHECK(page_of("\x8Crednica kana\xB3u") == page);  // Średnica kanału
  CHECK(page_of("pr\xEA"
                "dko\x9C\xE6 przep\xB3ywu") == page);            // prędkość przepływu
  CHECK(page_of("pr\xF9m\xECr potrub\xED") == page);             // průměr potrubí
  CHECK(page_of("tlou\x9A\x9Dka st\xECny") == page);             // tloušťka stěny
  CHECK(page_of("m\xEC\xEF") == page);                           // měď
  CHECK(page_of("litina tv\xE1rn\xE1, p\xF8\xEDruba") == page);  // litina tvárná, příruba
  CHECK(page_of("nyom\xF3"
                "cs\xF5 \xE1tm\xE9r\xF5") == page);          // nyomócső átmérő
  CHECK(page_of("h\xF5m\xE9rs\xE9klet") == page);            // hőmérséklet
  CHECK(page_of("debljina stijenke, \x9Aupljina") == page);  // debljina stijenke, šupljina
  CHECK(page_of("conduct\xE3 ap\xE3, o\xFE"
                "el") == page);  // conductă apă, oţel
}

TEST_CASE("encoding: words and signs of Windows-1252") {
  const auto page = TextEncoding::windows_1252;
  CHECK(page_of("Diam\xE8tre ext\xE9rieur") == page);  // Diamètre extérieur
  CHECK(page_of("Mati\xE8re") == page);                // Matière
  CHECK(page_of("Poly\xE9thyl\xE8ne") == page);        // Polyéthylène
  CHECK(page_of("\xE9paisseur de paroi") == page);     // épaisseur de paroi
  CHECK(page_of("d\xE9"
                "bit \xE0 20 m\xE8tres") == page);           // débit à 20 mètres
  CHECK(page_of("ca\xF1o de acero, tama\xF1o") == page);     // caño de acero, tamaño
  CHECK(page_of("dise\xF1o") == page);                       // diseño
  CHECK(page_of("N\xBA 7") == page);                         // Nº 7
  CHECK(page_of("di\xE2metro da tubula\xE7\xE3o") == page);  // diâmetro da tubulação
  CHECK(page_of("dimens\xF5"
                "es") == page);                                   // dimensões
  CHECK(page_of("vaz\xE3o") == page);                             // vazão
  CHECK(page_of("r\xF8rdiameter") == page);                       // rørdiameter
  CHECK(page_of("l\xE6ngde") == page);                            // længde
  CHECK(page_of("st\xE5lr\xF8r") == page);                        // stålrør
  CHECK(page_of("k\xF6ldb\xE4rare, rostfritt st\xE5l") == page);  // köldbärare, rostfritt stål
  CHECK(page_of("Gu\xDF"
                "eisen, Au\xDF"
                "endurchmesser") == page);       // Gußeisen, Außendurchmesser
  CHECK(page_of("Stahl, L\xE4nge") == page);     // Stahl, Länge
  CHECK(page_of("qualit\xE0, pi\xF9") == page);  // qualità, più
  CHECK(page_of("man\x9Cuvre") == page);         // manœuvre
  CHECK(page_of("pi\xE8"
                "ce") == page);  // pièce
  CHECK(page_of("m\xB3/h") == page);
  CHECK(page_of("1\xBD\" Sch-40") == page);
  CHECK(page_of("\xD8 114,3") == page);
  CHECK(page_of("\xD8"
                "114,3") == page);
  CHECK(page_of("60 \xB0"
                "F") == page);
  CHECK(page_of("") == page);
  CHECK(page_of("\x80\xFF\x81\x90") == page);
}

TEST_CASE("encoding: Cyrillic words are those of Windows-1251") {
  const auto page = TextEncoding::windows_1251;
  CHECK(page_of("\xC4\xE8\xE0\xEC\xE5\xF2\xF0") == page);  // Диаметр
  CHECK(page_of("\xF1\xF2\xE0\xEB\xFC") == page);          // сталь
  CHECK(page_of("\xD2\xEE\xEB\xF9\xE8\xED\xE0 \xF1\xF2\xE5\xED\xEA\xE8, \xEC\xEC") ==
        page);  // Толщина стенки, мм
  CHECK(page_of("\xD2\xF0\xF3\xE1\xE0 76\xF5"
                "3,5 \xC3\xCE\xD1\xD2 10704-91") == page);  // Труба 76х3,5 ГОСТ 10704-91
  CHECK(page_of("\xD0\xE0\xE7\xEC\xE5\xF0 \xF2\xF0\xF3\xE1\xFB;\xC4\xF3 100") ==
        page);  // Размер трубы;Ду 100
  CHECK(page_of("\xE2\xEE\xE4\xE0, 60 \xB0"
                "C") == page);  // вода, 60 °C
  std::string text;
  append_as_utf8("\xC4\xF3 100;\xB9 5", page, text);
  CHECK(text == "Ду 100;№ 5");
  const EncodingGuess guess =
      guess_encoding("\xC4\xE8\xE0\xEC\xE5\xF2\xF0;\xCC\xE0\xF2\xE5\xF0\xE8\xE0\xEB", true);
  CHECK(guess.encoding == page);
  CHECK(encoding_name(guess.encoding) == "windows-1251");
  // Two marked letters in a row are met in Latin words, and one alone as a sign.
  CHECK(page_of("\xD8 114,3; \xD8 60,3; \xD8 48,3") == TextEncoding::windows_1252);
  CHECK(page_of("cr\xE9\xE9, K\xE4\xE4nt\xF6") == TextEncoding::windows_1252);  // créé, Kääntö
}

TEST_CASE("encoding: byte order marks come first") {
  const EncodingGuess with_mark = guess_encoding("\xEF\xBB\xBFTag,\xE8", true);
  CHECK(with_mark.encoding == TextEncoding::utf8);
  CHECK(with_mark.mark_bytes == 3);
  CHECK(guess_encoding(std::string_view("\xFF\xFE"
                                        "a\0",
                                        4),
                       true)
            .encoding == TextEncoding::utf16_le);
  CHECK(guess_encoding(std::string_view("\xFE\xFF\0a", 4), true).encoding ==
        TextEncoding::utf16_be);
  CHECK(guess_encoding("\xFE\xFF", true).mark_bytes == 2);
}

TEST_CASE("encoding: UTF-16 without a mark is told by its NULs") {
  CHECK(guess_encoding(std::string_view("a\0,\0b\0", 6), true).encoding == TextEncoding::utf16_le);
  CHECK(guess_encoding(std::string_view("\0a\0,\0b", 6), true).encoding == TextEncoding::utf16_be);
  // A stray NUL, and a file filled up with NULs, are neither.
  CHECK(guess_encoding(std::string_view("a,b\0,c\r\n1,2,3\r\n", 15), true).encoding ==
        TextEncoding::utf8);
  CHECK(guess_encoding(std::string_view("a,b\r\n\0\0\0\0\0\0\0", 12), true).encoding ==
        TextEncoding::utf8);
}

TEST_CASE("encoding: UTF-8, also when the window cuts a character") {
  CHECK(guess_encoding("plain", true).encoding == TextEncoding::utf8);
  CHECK(guess_encoding("m\xC2\xB3/h", true).encoding == TextEncoding::utf8);
  CHECK(guess_encoding("m\xC2\xB3/h \xC3", false).encoding == TextEncoding::utf8);
  CHECK(guess_encoding("plain \xC3", true).encoding == TextEncoding::windows_1252);
  // One stray byte among many good ones.
  CHECK(guess_encoding("\xC3\xB8 \xC3\xB8 \xC3\xB8 \xE8", true).encoding == TextEncoding::utf8);
  CHECK(guess_encoding("Pocin\xE8"
                       "ani \xE8"
                       "elik",
                       true)
            .encoding == TextEncoding::windows_1250);
  CHECK(guess_encoding("m\xB3/h", true).encoding == TextEncoding::windows_1252);
}

TEST_CASE("encoding: UTF-16 with surrogates, whole or in single bytes") {
  // U+1D11E is D834 DD1E in UTF-16 and F0 9D 84 9E in UTF-8 (RFC 2781, RFC 3629).
  const std::string_view big("\0a\xD8\x34\xDD\x1E\x00\xD8", 8);
  const std::string_view little("a\0\x34\xD8\x1E\xDD\xD8\x00", 8);
  for (std::size_t piece = 1; piece <= 8; ++piece) {
    CHECK(from_utf16(big, true, piece) == "a\xF0\x9D\x84\x9E\xC3\x98");
    CHECK(from_utf16(little, false, piece) == "a\xF0\x9D\x84\x9E\xC3\x98");
  }
  // Halves alone, two high halves in a row, and a byte left over.
  const std::string lost = "\xEF\xBF\xBD";
  CHECK(from_utf16(std::string_view("\xDC\x00\0a", 4), true, 4) == lost + "a");
  CHECK(from_utf16(std::string_view("\xD8\x00\0a", 4), true, 4) == lost + "a");
  CHECK(from_utf16(std::string_view("\xD8\x00\xD8\x34\xDD\x1E", 6), true, 6) ==
        lost + "\xF0\x9D\x84\x9E");
  CHECK(from_utf16(std::string_view("\xD8\x00", 2), true, 2) == lost);
  CHECK(from_utf16(std::string_view("\0a\0", 3), false, 3) == "\xE6\x84\x80");
  CHECK(from_utf16(std::string_view("a\0b", 3), false, 3) == "a" + lost);
}
