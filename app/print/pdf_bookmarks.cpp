// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/pdf_bookmarks.h"

#include <QRegularExpression>

namespace keyround {

namespace {

/// The number in the first match's first group; -1 without one.
qint64 numberIn(const QString &text, const char *pattern)
{
    const auto match = QRegularExpression(QLatin1String(pattern)).match(text);
    return match.hasMatch() ? match.captured(1).toLongLong() : -1;
}

/// What stands between "N 0 obj" and "endobj"; empty when it is not there.
QString objectText(const QString &pdf, qint64 number)
{
    const auto head =
        QRegularExpression(QStringLiteral("(?:^|\\n)%1 0 obj\\s").arg(number)).match(pdf);
    if (!head.hasMatch()) {
        return {};
    }
    const qsizetype from = head.capturedEnd();
    return pdf.mid(from, pdf.indexOf(QLatin1String("endobj"), from) - from).trimmed();
}

/// The pages' objects, in their order.
std::vector<qint64> pagesOf(const QString &pdf, const QString &catalog)
{
    const qint64 tree = numberIn(catalog, "/Pages (\\d+) 0 R");
    static const QRegularExpression list(QStringLiteral("/Kids\\s*\\[([^\\]]*)\\]"));
    static const QRegularExpression reference(QStringLiteral("(\\d+) 0 R"));
    std::vector<qint64> pages;
    auto each = reference.globalMatch(list.match(objectText(pdf, tree)).captured(1));
    while (each.hasNext()) {
        pages.push_back(each.next().captured(1).toLongLong());
    }
    return pages;
}

/// A text string in UTF-16, hexadecimal: no letter needs escaping (7.9.2.2).
QByteArray textString(const QString &text)
{
    QByteArray hex = "<FEFF";
    for (const QChar letter : text) {
        hex += QByteArray::number(letter.unicode(), 16).rightJustified(4, '0').toUpper();
    }
    return hex + '>';
}

QByteArray reference(qint64 number)
{
    return QByteArray::number(number) + " 0 R";
}

/// Objects written behind the end of a file, and the table that finds them.
class Appendix
{
public:
    explicit Appendix(const QByteArray &pdf) : m_bytes(pdf)
    {
        if (!m_bytes.endsWith('\n')) {
            m_bytes += '\n';
        }
    }
    void add(qint64 number, const QByteArray &content)
    {
        m_table += QByteArray::number(number) + " 1\n" +
                   QByteArray::number(m_bytes.size()).rightJustified(10, '0') + " 00000 n \n";
        m_bytes += QByteArray::number(number) + " 0 obj\n" + content + "\nendobj\n";
    }
    QByteArray finish(qint64 size, qint64 root, qint64 info, qint64 before)
    {
        const qsizetype table = m_bytes.size();
        m_bytes += "xref\n" + m_table + "trailer\n<< /Size " + QByteArray::number(size) +
                   " /Root " + reference(root);
        if (info >= 0) {
            m_bytes += " /Info " + reference(info);
        }
        m_bytes += " /Prev " + QByteArray::number(before) + " >>\nstartxref\n" +
                   QByteArray::number(table) + "\n%%EOF\n";
        return m_bytes;
    }

private:
    QByteArray m_bytes;
    QByteArray m_table;
};

} // namespace

QByteArray withBookmarks(const QByteArray &pdf, const std::vector<PaperMark> &marks)
{
    const QString text = QString::fromLatin1(pdf);
    const QString trailer = text.mid(text.lastIndexOf(QLatin1String("trailer")));
    const qint64 root = numberIn(trailer, "/Root (\\d+) 0 R");
    const qint64 size = numberIn(trailer, "/Size (\\d+)");
    const qint64 before = numberIn(trailer, "startxref\\s+(\\d+)");
    QString catalog = objectText(text, root);
    const std::vector<qint64> pages = pagesOf(text, catalog);
    const bool isExpected = root > 0 && size > 0 && before > 0 && !pages.empty() &&
                            catalog.startsWith(QLatin1String("<<")) &&
                            catalog.endsWith(QLatin1String(">>")) &&
                            !catalog.contains(QLatin1String("/Outlines"));
    if (!isExpected || marks.empty()) {
        return pdf;
    }
    Appendix appendix(pdf);
    const qint64 outline = size;
    const auto item = [outline](std::size_t index) {
        return outline + 1 + static_cast<qint64>(index);
    };
    catalog.insert(2, QStringLiteral("\n/Outlines %1 0 R\n/PageMode /UseOutlines").arg(outline));
    appendix.add(root, catalog.toLatin1());
    appendix.add(outline, "<< /Type /Outlines /First " + reference(item(0)) + " /Last " +
                              reference(item(marks.size() - 1)) + " /Count " +
                              QByteArray::number(static_cast<qint64>(marks.size())) + " >>");
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const auto page = static_cast<std::size_t>(std::max(1, marks[i].page) - 1);
        QByteArray entry = "<< /Title " + textString(marks[i].name) + " /Parent " +
                           reference(outline) + " /Dest [" +
                           reference(pages[std::min(page, pages.size() - 1)]) +
                           " /XYZ null null null]";
        if (i > 0) {
            entry += " /Prev " + reference(item(i - 1));
        }
        if (i + 1 < marks.size()) {
            entry += " /Next " + reference(item(i + 1));
        }
        appendix.add(item(i), entry + " >>");
    }
    return appendix.finish(item(marks.size()), root, numberIn(trailer, "/Info (\\d+) 0 R"), before);
}

} // namespace keyround
