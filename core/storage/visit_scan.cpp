// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/visit_scan.h"

#include "core/storage/codes.h"

#include <cstring>
#include <vector>

namespace keyround {

namespace {

template <typename Kind> struct Keyed
{
    QByteArray key;
    Kind kind;
};
template <typename Kind> using Keys = std::vector<Keyed<Kind>>;

template <typename Kind> Keys<Kind> keysOf(std::initializer_list<Kind> kinds)
{
    Keys<Kind> keys;
    for (const Kind kind : kinds) {
        keys.push_back({storedKey(kind).toLatin1(), kind});
    }
    return keys;
}

const Keys<Position> &positionKeys()
{
    static const Keys<Position> keys =
        keysOf({Position::Open, Position::Closed, Position::NotSeen, Position::PartOpen});
    return keys;
}

const Keys<PassDirection> &directionKeys()
{
    static const Keys<PassDirection> keys =
        keysOf({PassDirection::Closing, PassDirection::Opening});
    return keys;
}

const Keys<Problem> &problemKeys()
{
    static const Keys<Problem> keys = [] {
        Keys<Problem> all;
        for (const ProblemInfo &info : problemList()) {
            all.push_back({QByteArray(info.key), info.problem});
        }
        return all;
    }();
    return keys;
}

/// By character: what it counts for in a hexadecimal number; anything but 0-9 and a-f: not a digit.
constexpr unsigned char notADigit = 0x80;
constexpr std::array<unsigned char, 256> hexDigits = [] {
    std::array<unsigned char, 256> digits{};
    digits.fill(notADigit);
    for (unsigned char i = 0; i < 10; ++i) {
        digits['0' + i] = i;
    }
    for (unsigned char i = 0; i < 6; ++i) {
        digits['a' + i] = static_cast<unsigned char>(10 + i);
    }
    return digits;
}();

/// Goes through the text once. The first thing that is not as expected stops it for good.
class Cursor
{
public:
    explicit Cursor(QByteArrayView text) : m_at(text.data()), m_end(text.data() + text.size()) {}

    [[nodiscard]] bool good() const { return m_good; }
    [[nodiscard]] bool atEnd() const { return m_at == m_end; }

    template <std::size_t N> void expect(const char (&literal)[N])
    {
        if (!skip(literal)) {
            m_good = false;
        }
    }
    template <std::size_t N> bool skip(const char (&literal)[N])
    {
        constexpr std::size_t length = N - 1;
        if (!m_good || static_cast<std::size_t>(m_end - m_at) < length ||
            std::memcmp(m_at, literal, length) != 0) {
            return false;
        }
        m_at += length;
        return true;
    }

    /// Up to the quotation mark that ends a text, and past it.
    QByteArrayView text()
    {
        const char *begin = m_at;
        while (m_good && m_at != m_end && *m_at != '"') {
            const auto byte = static_cast<unsigned char>(*m_at);
            m_good = byte >= 0x20 && byte < 0x80 && byte != '\\';
            ++m_at;
        }
        if (!m_good || m_at == m_end) {
            m_good = false;
            return {};
        }
        const QByteArrayView found(begin, m_at);
        ++m_at;
        return found;
    }

    std::int64_t integer(int mostDigits)
    {
        const bool negative = m_good && m_at != m_end && *m_at == '-';
        m_at += negative ? 1 : 0;
        const char *begin = m_at;
        std::int64_t value = 0;
        while (m_at != m_end && *m_at >= '0' && *m_at <= '9' && m_at - begin <= mostDigits) {
            value = value * 10 + (*m_at - '0');
            ++m_at;
        }
        const auto digits = m_at - begin;
        const bool leadingZero = digits > 0 && *begin == '0' && (digits > 1 || negative);
        m_good = m_good && digits > 0 && digits <= mostDigits && !leadingZero;
        return negative ? -value : value;
    }
    int quarterTurns() { return static_cast<int>(integer(9)); }

    template <typename Kind> Kind kind(const Keys<Kind> &keys)
    {
        const QByteArrayView found = text();
        for (const Keyed<Kind> &each : keys) {
            if (QByteArrayView(each.key) == found) {
                return each.kind;
            }
        }
        m_good = false;
        return {};
    }

    /// Empty text: none.
    QUuid id()
    {
        if (skip("\"")) {
            return {};
        }
        constexpr std::ptrdiff_t length = 36;
        m_good = m_good && m_end - m_at > length && m_at[length] == '"';
        if (!m_good) {
            return {};
        }
        const QUuid uuid = idFromCanonical({m_at, length});
        m_at += length + 1;
        m_good = !uuid.isNull();
        return uuid;
    }

    Moment moment()
    {
        expect("{\"offset_s\":");
        const auto offset = static_cast<int>(integer(9));
        expect(",\"utc_ms\":");
        const std::int64_t utc = integer(15);
        expect("}");
        return {utc, offset};
    }

    Standing standing()
    {
        expect("{\"position\":\"");
        Standing standing{kind(positionKeys()), std::nullopt};
        if (skip(",\"quarter_turns_from_closed\":")) {
            standing.turnsFromClosed = QuarterTurns{quarterTurns()};
        }
        expect("}");
        return standing;
    }

    std::vector<Pass> passes()
    {
        std::vector<Pass> passes;
        if (skip("[]")) {
            return passes;
        }
        passes.reserve(2);
        expect("[");
        do {
            expect("{\"direction\":\"");
            Pass pass;
            pass.direction = kind(directionKeys());
            expect(",\"quarter_turns\":");
            pass.turns = QuarterTurns{quarterTurns()};
            expect("}");
            passes.push_back(pass);
        } while (skip(","));
        expect("]");
        return passes;
    }

    QList<Problem> problems()
    {
        QList<Problem> problems;
        if (skip("[]")) {
            return problems;
        }
        expect("[");
        do {
            expect("\"");
            problems << kind(problemKeys());
        } while (skip(","));
        expect("]");
        return problems;
    }

private:
    const char *m_at;
    const char *m_end;
    bool m_good = true;
};

} // namespace

QUuid idFromCanonical(QByteArrayView text)
{
    constexpr qsizetype length = 36;
    // Where the two digits of each byte begin: 8-4-4-4-12.
    constexpr std::array<std::size_t, 16> places{0,  2,  4,  6,  9,  11, 14, 16,
                                                 19, 21, 24, 26, 28, 30, 32, 34};
    if (text.size() != length || text[8] != '-' || text[13] != '-' || text[18] != '-' ||
        text[23] != '-') {
        return {};
    }
    const auto *at = reinterpret_cast<const unsigned char *>(text.data());
    std::array<unsigned char, places.size()> bytes{};
    unsigned int seen = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const unsigned int high = hexDigits[at[places[i]]];
        const unsigned int low = hexDigits[at[places[i] + 1]];
        seen |= high | low;
        bytes[i] = static_cast<unsigned char>((high << 4U) | low);
    }
    return (seen & notADigit) != 0
               ? QUuid()
               : QUuid::fromRfc4122(QByteArrayView(bytes.data(), qsizetype{places.size()}));
}

QString VisitScanner::shared(QByteArrayView text)
{
    if (text.isEmpty()) {
        // As JSON gives it: empty, and not the null text.
        return QStringLiteral("");
    }
    std::size_t place = static_cast<std::size_t>(text.size());
    for (const char c : text) {
        place = place * 31 + static_cast<unsigned char>(c);
    }
    Known &known = m_known[place % knownTexts];
    if (QByteArrayView(known.bytes) != text) {
        known.bytes = text.toByteArray();
        known.text = QString::fromLatin1(text);
    }
    return known.text;
}

// The keys stand in their sorted order: canonicalJson() writes no other.
bool VisitScanner::scan(QByteArrayView json, Visit &visit)
{
    Cursor cursor(json);
    cursor.expect("{\"arrived\":");
    visit.arrived = cursor.moment();
    cursor.expect(",\"crew\":\"");
    visit.crew = shared(cursor.text());
    cursor.expect(",\"device\":\"");
    visit.device = shared(cursor.text());
    cursor.expect(",\"finished\":");
    visit.finished = cursor.moment();
    cursor.expect(",\"found\":");
    visit.found = cursor.standing();
    cursor.expect(",\"id\":\"");
    visit.id = {cursor.id()};
    cursor.expect(",\"left\":");
    visit.left = cursor.standing();
    cursor.expect(",\"other_problem\":\"");
    visit.otherProblem = shared(cursor.text());
    cursor.expect(",\"passes\":");
    visit.passes = cursor.passes();
    cursor.expect(",\"problems\":");
    visit.problems = cursor.problems();
    cursor.expect(",\"reason\":\"");
    visit.reason = shared(cursor.text());
    cursor.expect(",\"recorded_by\":\"");
    visit.recordedBy = shared(cursor.text());
    cursor.expect(",\"remarks\":\"");
    visit.remarks = shared(cursor.text());
    cursor.expect(",\"round\":\"");
    visit.round = {cursor.id()};
    cursor.expect(",\"stamp\":\"");
    visit.stamp.value = static_cast<std::uint64_t>(cursor.integer(18));
    cursor.expect("\",\"supersedes\":\"");
    visit.supersedes = {cursor.id()};
    cursor.expect(",\"valve\":\"");
    visit.valve = {cursor.id()};
    cursor.expect("}");
    return cursor.good() && cursor.atEnd() && visit.stamp.value <= (1ULL << 62U);
}

} // namespace keyround
