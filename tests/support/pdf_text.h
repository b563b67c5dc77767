// SPDX-License-Identifier: GPL-3.0-or-later
// What Poppler's tools read out of a PDF.
#pragma once

#include <QProcess>
#include <QRegularExpression>
#include <QString>
#include <QStringList>

#include <vector>

namespace keyround::tests {

inline QString popplerOutput(const QString &program, const QStringList &arguments)
{
    QProcess process;
    process.start(program, arguments);
    if (!process.waitForFinished(60000) || process.exitCode() != 0) {
        qFatal("%s failed: %s", qPrintable(program), process.readAllStandardError().constData());
    }
    return QString::fromUtf8(process.readAllStandardOutput());
}

inline QString withoutSpaces(QString text)
{
    static const QRegularExpression spaces(QStringLiteral("\\s+"));
    return text.remove(spaces);
}

/// Without any white space: wrapping and columns do not matter to it.
inline QString pdfText(const QString &path)
{
    return withoutSpaces(popplerOutput(QStringLiteral("pdftotext"),
                                       {QStringLiteral("-raw"), path, QStringLiteral("-")}));
}

inline int pdfPages(const QString &path)
{
    static const QRegularExpression pages(QStringLiteral("Pages:\\s+(\\d+)"));
    return pages.match(popplerOutput(QStringLiteral("pdfinfo"), {path})).captured(1).toInt();
}

/// "792 x 612 pts".
inline QString pdfPageSize(const QString &path)
{
    static const QRegularExpression size(QStringLiteral("Page size:\\s+([^\\n(]+)"));
    return size.match(popplerOutput(QStringLiteral("pdfinfo"), {path})).captured(1).trimmed();
}

/// The names of the bookmarks, in their order.
inline QStringList pdfBookmarks(const QString &path)
{
    const QString xml =
        popplerOutput(QStringLiteral("pdftohtml"), {QStringLiteral("-xml"), QStringLiteral("-i"),
                                                    QStringLiteral("-stdout"), path});
    static const QRegularExpression item(QStringLiteral("<item page=\"(\\d+)\">([^<]*)</item>"));
    QStringList names;
    auto each = item.globalMatch(xml);
    while (each.hasNext()) {
        const auto match = each.next();
        names << QStringLiteral("%1 %2").arg(match.captured(1), match.captured(2));
    }
    return names;
}

/// Words that reach out of the page's margins (12 mm are 34 pt), each with its place.
inline QStringList pdfWordsOutside(const QString &path, double margin = 33)
{
    const QString xml = popplerOutput(QStringLiteral("pdftotext"),
                                      {QStringLiteral("-bbox"), path, QStringLiteral("-")});
    static const QRegularExpression thing(QStringLiteral(
        "<page width=\"([\\d.]+)\" height=\"([\\d.]+)\">|<word xMin=\"([-\\d.]+)\" "
        "yMin=\"([-\\d.]+)\" xMax=\"([-\\d.]+)\" yMax=\"([-\\d.]+)\">([^<]*)</word>"));
    double width = 0;
    double height = 0;
    QStringList outside;
    auto each = thing.globalMatch(xml);
    while (each.hasNext()) {
        const auto match = each.next();
        if (!match.captured(1).isEmpty()) {
            width = match.captured(1).toDouble();
            height = match.captured(2).toDouble();
            continue;
        }
        const double left = match.captured(3).toDouble();
        const double top = match.captured(4).toDouble();
        const double right = match.captured(5).toDouble();
        const double bottom = match.captured(6).toDouble();
        if (left < margin || top < margin - 4 || right > width - margin ||
            bottom > height - margin + 4) {
            outside << QStringLiteral("%1 at %2..%3, %4..%5")
                           .arg(match.captured(7))
                           .arg(left)
                           .arg(right)
                           .arg(top)
                           .arg(bottom);
        }
    }
    return outside;
}

} // namespace keyround::tests
