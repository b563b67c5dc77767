// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/csv_text.h"

#include <QRegularExpression>
#include <QStringConverter>

#include <algorithm>
#include <array>
#include <utility>

namespace keyround {

namespace {

constexpr std::array delimiters{',', ';', '\t', '|'};
constexpr size_t mostRowsNoted = 1000;
constexpr qsizetype longestHeading = 300;

struct Decoded
{
    QByteArray utf8;
    QString encoding;
};

Result<Decoded> decodedAs(const char *encoding, const QByteArray &raw, const QString &name)
{
    QStringDecoder decoder(encoding);
    const QString text = decoder.isValid() ? QString(decoder(raw)) : QString();
    if (text.isEmpty() || decoder.hasError() || text.contains(QChar(u'\0'))) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 is not text in UTF-8, UTF-16 or Windows-1252. Save it again "
                                   "as \"CSV UTF-8\".")
                        .arg(name));
    }
    return Decoded{text.toUtf8(), QLatin1String(encoding)};
}

/// Text has next to no control characters besides its line ends; one stray end-of-file mark is old
/// custom.
bool looksBinary(const QByteArray &raw)
{
    qsizetype controls = 0;
    for (const char c : raw) {
        const auto byte = static_cast<unsigned char>(c);
        controls += byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r' ? 1 : 0;
    }
    return controls > 1 + raw.size() / 1000;
}

Result<Decoded> decoded(const QByteArray &raw, const QString &name)
{
    if (raw.startsWith("\xFF\xFE") || raw.startsWith("\xFE\xFF")) {
        if (raw.size() % 2 != 0) {
            return fail(
                ErrorCode::BadInput,
                QStringLiteral("%1 is UTF-16 cut short within a letter. Copy it again.").arg(name));
        }
        return decodedAs("UTF-16", raw, name);
    }
    if (raw.contains('\0')) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has zero bytes in it: it is not a table in text, or it is "
                                   "UTF-16 without its mark. Save it again as \"CSV UTF-8\".")
                        .arg(name));
    }
    if (looksBinary(raw)) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 is not text inside: it is full of control characters. Was "
                                   "it renamed?")
                        .arg(name));
    }
    const QByteArray bare = raw.startsWith("\xEF\xBB\xBF") ? raw.sliced(3) : raw;
    if (bare.isValidUtf8()) {
        return Decoded{bare, QStringLiteral("UTF-8")};
    }
    return decodedAs("Windows-1252", bare, name);
}

/// The separator that the heading line uses most, outside of quotes.
char delimiterOf(const QByteArray &text)
{
    std::array<int, delimiters.size()> counts{};
    bool quoted = false;
    for (const char c : text) {
        if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && (c == '\n' || c == '\r')) {
            break;
        } else if (!quoted) {
            for (size_t i = 0; i < delimiters.size(); ++i) {
                counts[i] += delimiters[i] == c ? 1 : 0;
            }
        }
    }
    size_t best = 0;
    for (size_t i = 1; i < delimiters.size(); ++i) {
        best = counts[i] > counts[best] ? i : best;
    }
    return delimiters[best];
}

/// Cuts the text into records, one at a call.
class Records
{
public:
    Records(const QByteArray &text, char delimiter) : m_text(text), m_delimiter(delimiter) {}

    /// False at the end of the text. A blank line is a record with one empty, unquoted field.
    bool next(QList<QByteArray> &fields)
    {
        fields.clear();
        m_sawQuotes = false;
        if (m_at >= m_text.size()) {
            return false;
        }
        while (true) {
            fields << field();
            if (m_at >= m_text.size()) {
                return true;
            }
            const char c = m_text.at(m_at++);
            if (c == m_delimiter) {
                if (m_at >= m_text.size()) { // the text ends in a separator: one more, empty
                    fields << QByteArray();
                    return true;
                }
                continue;
            }
            if (c == '\r' && m_at < m_text.size() && m_text.at(m_at) == '\n') {
                ++m_at;
            }
            return true;
        }
    }

    [[nodiscard]] bool unclosed() const { return m_unclosed; }
    [[nodiscard]] bool sawQuotes() const { return m_sawQuotes; }

private:
    QByteArray field()
    {
        QByteArray value;
        if (m_at < m_text.size() && m_text.at(m_at) == '"') {
            m_sawQuotes = true;
            ++m_at;
            quotedPart(value);
        }
        // A quote inside an unquoted field is a quote (6" is a size); so is text after a closing
        // one.
        while (m_at < m_text.size()) {
            const char c = m_text.at(m_at);
            if (c == m_delimiter || c == '\n' || c == '\r') {
                break;
            }
            value += c;
            ++m_at;
        }
        return value;
    }

    void quotedPart(QByteArray &value)
    {
        while (m_at < m_text.size()) {
            const char c = m_text.at(m_at++);
            if (c != '"') {
                value += c;
            } else if (m_at < m_text.size() && m_text.at(m_at) == '"') {
                value += '"';
                ++m_at;
            } else {
                return;
            }
        }
        m_unclosed = true;
    }

    const QByteArray &m_text;
    char m_delimiter;
    qsizetype m_at = 0;
    bool m_unclosed = false;
    bool m_sawQuotes = false;
};

bool isBlankRecord(const QList<QByteArray> &fields)
{
    for (const QByteArray &field : fields) {
        if (!field.trimmed().isEmpty()) {
            return false;
        }
    }
    return true;
}

void appendRecord(QByteArray &out, const QList<QByteArray> &fields, qsizetype columns)
{
    for (qsizetype i = 0; i < columns; ++i) {
        QByteArray value = fields.value(i);
        value.replace('"', "\"\"");
        out += i == 0 ? "\"" : ",\"";
        out += value;
        out += '"';
    }
    out += '\n';
}

/// Names for columns without a heading; a heading given twice is an error, for a match would be
/// a guess.
Result<QStringList> headingsFrom(const QList<QByteArray> &fields, const QString &name)
{
    QStringList headings;
    for (const QByteArray &field : fields) {
        QString heading = QString::fromUtf8(field).trimmed();
        if (heading.isEmpty()) {
            heading = QStringLiteral("column %1").arg(headings.size() + 1);
        }
        if (heading.size() > longestHeading) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("%1 is no table: its first line has a heading of %2 "
                                       "characters.")
                            .arg(name)
                            .arg(heading.size()));
        }
        if (headings.contains(heading, Qt::CaseInsensitive)) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("%1 has two columns headed \"%2\". Give each column a "
                                       "heading of its own.")
                            .arg(name, heading));
        }
        headings << heading;
    }
    return headings;
}

Status readRows(Records &records, CsvText &csv, const QString &name)
{
    const qsizetype columns = csv.headings.size();
    QList<QByteArray> fields;
    while (records.next(fields)) {
        if (records.unclosed()) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("%1: a quote opened in data row %2 is never closed. Close "
                                       "it, or take it out.")
                            .arg(name)
                            .arg(csv.rows + 1));
        }
        if (isBlankRecord(fields) && !records.sawQuotes()) {
            continue;
        }
        ++csv.rows;
        if (fields.size() < columns && csv.shortRows.size() < mostRowsNoted) {
            csv.shortRows.push_back(csv.rows);
        }
        if (!isBlankRecord(fields.mid(columns)) && csv.longRows.size() < mostRowsNoted) {
            csv.longRows.push_back(csv.rows);
        }
        appendRecord(csv.plain, fields.mid(0, columns), std::max<qsizetype>(columns, 2));
    }
    return {};
}

} // namespace

Result<CsvText> readCsvText(const QByteArray &raw, const QString &name)
{
    const auto text = decoded(raw, name);
    if (!text) {
        return tl::unexpected(text.error());
    }
    Records records(text->utf8, delimiterOf(text->utf8));
    QList<QByteArray> fields;
    do {
        if (!records.next(fields)) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("%1 holds nothing but blank lines.").arg(name));
        }
    } while (isBlankRecord(fields));
    if (records.unclosed()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1: a quote opened in the heading line is never closed. Close "
                                   "it, or take it out.")
                        .arg(name));
    }
    auto headings = headingsFrom(fields, name);
    if (!headings) {
        return tl::unexpected(headings.error());
    }
    CsvText csv;
    csv.encoding = text->encoding;
    csv.headings = std::move(*headings);
    csv.plain.reserve(text->utf8.size() + text->utf8.size() / 4);
    QList<QByteArray> names;
    for (const QString &heading : std::as_const(csv.headings)) {
        names << heading.toUtf8();
    }
    if (names.size() == 1) {
        names << QByteArray(csvPadding);
    }
    appendRecord(csv.plain, names, names.size());
    const Status read = readRows(records, csv, name);
    if (!read) {
        return tl::unexpected(read.error());
    }
    return csv;
}

QString guarded(const QString &field)
{
    static const QRegularExpression risky(QStringLiteral("^'*[=+\\-@\\t\\r\\n]"));
    static const QRegularExpression plainNumber(
        QStringLiteral("^[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?\\z"));
    if (!risky.match(field).hasMatch() || plainNumber.match(field).hasMatch()) {
        return field;
    }
    return QLatin1Char('\'') + field;
}

QString unguarded(const QString &field)
{
    if (!field.startsWith(QLatin1Char('\''))) { // nearly every cell of every file
        return field;
    }
    static const QRegularExpression mark(QStringLiteral("^'+[=+\\-@\\t\\r\\n]"));
    return mark.match(field).hasMatch() ? field.mid(1) : field;
}

} // namespace keyround
