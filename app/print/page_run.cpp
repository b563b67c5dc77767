// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/page_run.h"

#include "app/print/pdf_bookmarks.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"

#include <QBuffer>
#include <QFontMetricsF>
#include <QPagedPaintDevice>
#include <QPdfWriter>

#include <algorithm>

namespace keyround {

namespace {

constexpr int dotsPerInch = 96;
constexpr double marginMillimetres = 12;

} // namespace

QPageSize::PageSizeId paperFor(UnitSystem units)
{
    return units == UnitSystem::Us ? QPageSize::Letter : QPageSize::A4;
}

double millimetres(double value)
{
    return value / 25.4 * dotsPerInch;
}

QFont paperFont(double points, QFont::Weight weight)
{
    QFont font(QStringLiteral("DejaVu Sans"));
    font.setPointSizeF(points);
    font.setWeight(weight);
    // Hinting would round the widths of letters to whole dots.
    font.setHintingPreference(QFont::PreferNoHinting);
    // The least spacing there is keeps letters from being joined ("ff" as one sign), so that the
    // text of a PDF can be searched as it was written.
    constexpr double leastSpacing = 1.0 / 64.0;
    font.setLetterSpacing(QFont::AbsoluteSpacing, leastSpacing);
    return font;
}

QTextOption paperWrapping(Qt::Alignment alignment)
{
    QTextOption option(alignment);
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
    return option;
}

QPageLayout pageLayoutFor(const PageFurniture &furniture, const PaperOptions &options)
{
    return {QPageSize(furniture.paper), options.orientation,
            QMarginsF(marginMillimetres, marginMillimetres, marginMillimetres, marginMillimetres),
            QPageLayout::Millimeter};
}

PaperLines::PaperLines(const QString &text, const QFont &font, double width, QPaintDevice *device)
{
    QString plain = text;
    plain.replace(QLatin1Char('\n'), QChar::LineSeparator);
    m_layout = std::make_unique<QTextLayout>(plain, font, device);
    m_layout->setTextOption(paperWrapping());
    m_layout->beginLayout();
    double y = 0;
    for (QTextLine line = m_layout->createLine(); line.isValid(); line = m_layout->createLine()) {
        line.setLineWidth(width);
        line.setPosition({0, y});
        y += line.height();
    }
    m_layout->endLayout();
}

int PaperLines::fitting(int first, double height) const
{
    int fits = 0;
    while (first + fits < count() && this->height(first, fits + 1) <= height) {
        ++fits;
    }
    return fits;
}

double PaperLines::height(int first, int count) const
{
    double sum = 0;
    for (int i = first; i < std::min(first + count, this->count()); ++i) {
        sum += m_layout->lineAt(i).height();
    }
    return sum;
}

void PaperLines::draw(QPainter &painter, const QPointF &at, int first, int count) const
{
    for (int i = first; i < std::min(first + count, this->count()); ++i) {
        const QTextLine line = m_layout->lineAt(i);
        line.draw(&painter, at - QPointF(0, m_layout->lineAt(first).y()));
    }
}

PageRun::PageRun(QPagedPaintDevice &device, const PageFurniture &furniture,
                 const PaperOptions &options, int pageCount)
    : m_device(device), m_furniture(furniture), m_options(options), m_pageCount(pageCount),
      m_painter(&device)
{
    // A printer's own dots are finer: the page is counted in ours all the same.
    const double scale = device.logicalDpiX() / double(dotsPerInch);
    m_painter.scale(scale, scale);
    m_page = QRectF(0, 0, device.width() / scale, device.height() / scale);
}

QFontMetricsF PageRun::metrics(const QFont &font)
{
    return {font, &m_device};
}

void PageRun::startPage()
{
    if (m_pageNumber > 0) {
        m_device.newPage();
    }
    ++m_pageNumber;
    y = m_page.top();
    if (m_options.withHead) {
        paintHead();
    }
    m_painter.setPen(look::ink);
}

void PageRun::paintHead()
{
    m_painter.setPen(look::quietInk);
    const QFont font = paperFont(7.5);
    m_painter.setFont(font);
    const QRectF head(m_page.left(), y, m_page.width(), millimetres(4.5));
    const QString left = QStringList{m_furniture.utility, m_furniture.projectFile}.join(
        m_furniture.utility.isEmpty() ? QString() : QStringLiteral("  -  "));
    m_painter.drawText(head, Qt::AlignLeft,
                       metrics(font).elidedText(left, Qt::ElideRight, m_page.width() * 0.55));
    m_painter.drawText(head, Qt::AlignRight,
                       QObject::tr("%1   page %2 of %3")
                           .arg(m_furniture.printedWhen)
                           .arg(m_pageNumber)
                           .arg(m_pageCount));
    m_painter.drawLine(head.bottomLeft(), head.bottomRight());
    y = head.bottom() + millimetres(2);
}

double PageRun::heightOf(const QString &text, double width, const QFont &font)
{
    m_painter.setFont(font);
    return m_painter.boundingRect(QRectF(0, 0, width, 1e7), text, paperWrapping()).height();
}

PaperLines PageRun::lines(const QString &text, const QFont &font, double width)
{
    return {text, font, width, &m_device};
}

void PageRun::paragraph(const QString &text, const QFont &font)
{
    const double whole = heightOf(text, m_page.width(), font);
    if (y + whole > m_page.bottom()) {
        startPage();
    }
    if (y + whole > m_page.bottom()) { // longer than a page
        const PaperLines all = lines(text, font, m_page.width());
        for (int first = 0; first < all.count();) {
            const int fits = std::max(1, all.fitting(first, left()));
            all.draw(m_painter, {m_page.left(), y}, first, fits);
            y += all.height(first, fits);
            first += fits;
            if (first < all.count()) {
                startPage();
            }
        }
        y += millimetres(0.8);
        return;
    }
    m_painter.setFont(font);
    m_painter.drawText(QRectF(m_page.left(), y, m_page.width(), whole), text, paperWrapping());
    y += whole + millimetres(0.8);
}

int paintPaper(QPagedPaintDevice &device, const std::vector<PaperPart> &parts,
               const PageFurniture &furniture, const PaperOptions &options, int pageCount,
               std::vector<PaperMark> *marks)
{
    PageRun run(device, furniture, options, pageCount);
    for (const PaperPart &part : parts) {
        run.startPage();
        if (marks != nullptr) {
            marks->push_back({part.name, run.pageNumber()});
        }
        part.paint(run);
    }
    return run.pageNumber();
}

namespace {

/// A PDF in memory that is thrown away.
void onScrap(const PageFurniture &furniture, const PaperOptions &options,
             const std::function<void(QPdfWriter &)> &paint)
{
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setResolution(dotsPerInch);
    writer.setPageLayout(pageLayoutFor(furniture, options));
    paint(writer);
}

} // namespace

int countPages(const std::vector<PaperPart> &parts, const PageFurniture &furniture,
               const PaperOptions &options)
{
    int pages = 0;
    onScrap(furniture, options,
            [&](QPdfWriter &writer) { pages = paintPaper(writer, parts, furniture, options, 0); });
    return pages;
}

void measureOnPaper(const PageFurniture &furniture, const PaperOptions &options,
                    const std::function<void(PageRun &)> &measure)
{
    onScrap(furniture, options, [&](QPdfWriter &writer) {
        PageRun run(writer, furniture, options, 0);
        measure(run);
    });
}

Status writePaper(const QString &title, const std::vector<PaperPart> &parts,
                  const PageFurniture &furniture, const PaperOptions &options, const QString &path)
{
    if (parts.empty()) {
        return fail(ErrorCode::BadInput, QObject::tr("There is nothing to print."));
    }
    QByteArray bytes;
    std::vector<PaperMark> marks;
    int pages = 0;
    for (int run = 0; run < 2; ++run) {
        bytes.clear();
        marks.clear();
        QBuffer buffer(&bytes);
        buffer.open(QIODevice::WriteOnly);
        QPdfWriter writer(&buffer);
        writer.setTitle(title);
        writer.setCreator(QStringLiteral("Keyround"));
        writer.setResolution(dotsPerInch);
        writer.setPageLayout(pageLayoutFor(furniture, options));
        pages = paintPaper(writer, parts, furniture, options, pages, &marks);
    }
    return writeWhole(path, marks.size() > 1 ? withBookmarks(bytes, marks) : bytes);
}

} // namespace keyround
