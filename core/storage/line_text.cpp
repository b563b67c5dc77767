// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/line_text.h"

#include <array>
#include <charconv>
#include <string_view>

namespace keyround {

namespace {

constexpr std::string_view emptyLine = "LINESTRING EMPTY";
constexpr std::string_view opening = "LINESTRING (";

void append(QByteArray &text, double value)
{
    std::array<char, 32> buffer{};
    const auto written = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    text.append(buffer.data(), written.ptr - buffer.data());
}

tl::unexpected<Error> notALine(const QString &text)
{
    return fail(ErrorCode::Damaged,
                QStringLiteral("The project file holds a line that cannot be read: \"%1\". The "
                               "file is damaged: open the newest back-up.")
                    .arg(text.left(60)));
}

} // namespace

QString lineText(const GeoLine &line)
{
    if (line.empty()) {
        return QString::fromLatin1(emptyLine.data(), static_cast<qsizetype>(emptyLine.size()));
    }
    QByteArray text(opening.data(), static_cast<qsizetype>(opening.size()));
    text.reserve(static_cast<qsizetype>(line.size()) * 38 + 16);
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (i > 0) {
            text.append(", ");
        }
        append(text, line[i].longitude);
        text.append(' ');
        append(text, line[i].latitude);
    }
    text.append(')');
    return QString::fromLatin1(text);
}

Result<GeoLine> lineFromText(const QString &text)
{
    const QByteArray bytes = text.toLatin1();
    std::string_view rest(bytes.constData(), static_cast<std::size_t>(bytes.size()));
    GeoLine line;
    if (rest == emptyLine) {
        return line;
    }
    if (!rest.starts_with(opening)) {
        return notALine(text);
    }
    rest.remove_prefix(opening.size());
    const auto number = [&rest](double &value) {
        const auto read = std::from_chars(rest.data(), rest.data() + rest.size(), value);
        rest.remove_prefix(static_cast<std::size_t>(read.ptr - rest.data()));
        return read.ec == std::errc();
    };
    const auto literal = [&rest](std::string_view expected) {
        const bool there = rest.starts_with(expected);
        rest.remove_prefix(there ? expected.size() : 0);
        return there;
    };
    do {
        GeoPoint point;
        if (!number(point.longitude) || !literal(" ") || !number(point.latitude)) {
            return notALine(text);
        }
        line.push_back(point);
    } while (literal(", "));
    if (rest != ")") {
        return notALine(text);
    }
    return line;
}

} // namespace keyround
