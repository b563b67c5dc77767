// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/repair_pages.h"

#include "app/commands/photo_commands.h"
#include "app/map/map_painter.h"
#include "app/print/page_furniture.h"
#include "app/print/page_run.h"
#include "app/shell/style.h"
#include "core/reports/repair_sheet.h"
#include "core/storage/photo_store.h"

#include <QBuffer>
#include <QImageReader>

#include <algorithm>
#include <memory>
#include <optional>

namespace keyround {

namespace {

constexpr double labelWidth = 27; // millimetres, as all below
constexpr double pictureShare = 0.4;
constexpr double mapHeight = 66;
constexpr double photoHeight = 52;
constexpr double boxHeight = 13;
constexpr double mapReach = 90; ///< metres shown around the valve

/// What one request's page is painted from.
struct RepairPage
{
    RepairSheet sheet;
    GeoPoint place;
    std::optional<Photo> photo;
    std::shared_ptr<const MapContent> map; ///< one for all pages
};

/// Upright, and no finer than paper shows. A photo whose file was left behind is shown by its
/// thumbnail. Read only when the page is painted, so that a thousand requests need no more room
/// than one.
QImage pictureOf(Session &session, const Photo &photo)
{
    constexpr int mostPixels = 1000;
    QByteArray bytes = photo.thumbnail;
    if (auto read = session.project().photos().read(photo)) {
        bytes = std::move(*read);
    }
    QBuffer buffer(&bytes);
    QImageReader reader(&buffer);
    reader.setAutoTransform(true);
    const QImage image = reader.read();
    return std::max(image.width(), image.height()) > mostPixels
               ? image.scaled(mostPixels, mostPixels, Qt::KeepAspectRatio, Qt::SmoothTransformation)
               : image;
}

class RepairPainting
{
public:
    RepairPainting(PageRun &run, const RepairPage &page, QImage photo)
        : m_run(run), m_page(page), m_photo(std::move(photo))
    {
    }

    void paint()
    {
        m_run.paragraph(m_page.sheet.title, paperFont(16, QFont::DemiBold));
        paintUrgency();
        const double top = m_run.y;
        const int firstPage = m_run.pageNumber();
        const double picturesEnd = paintPictures(top);
        paintFacts();
        if (m_run.pageNumber() == firstPage) {
            m_run.y = std::max(m_run.y, picturesEnd);
        }
        paintEvidence();
        paintList(QObject::tr("So far"), m_page.sheet.life);
        paintBoxes();
    }

private:
    [[nodiscard]] double factsWidth() const
    {
        const bool hasPictures = m_page.map != nullptr || !m_photo.isNull();
        return m_run.page().width() * (hasPictures ? 1 - pictureShare - 0.02 : 1.0);
    }

    void paintUrgency()
    {
        const QFont font = paperFont(11, QFont::DemiBold);
        const double inset = millimetres(1.5);
        const double width = m_run.page().width() - 2 * inset;
        const double height = m_run.heightOf(m_page.sheet.urgent, width, font) + 2 * inset;
        const QRectF frame(m_run.page().left(), m_run.y, m_run.page().width(), height);
        QPainter &painter = m_run.painter();
        painter.setPen(QPen(look::ink, 1.6));
        painter.drawRect(frame);
        painter.setFont(font);
        painter.drawText(frame.adjusted(inset, inset, -inset, -inset), m_page.sheet.urgent,
                         paperWrapping());
        m_run.y = frame.bottom() + millimetres(3);
    }

    /// At the right of the first page; returns where they end.
    double paintPictures(double top)
    {
        const double width = m_run.page().width() * pictureShare;
        QRectF area(m_run.page().right() - width, top, width, millimetres(mapHeight));
        QPainter &painter = m_run.painter();
        if (m_page.map != nullptr) {
            PlaneBox box;
            const PlanePoint at = m_page.map->plane.toPlane(m_page.place);
            box.take(PlanePoint{at.x - mapReach, at.y - mapReach});
            box.take(PlanePoint{at.x + mapReach, at.y + mapReach});
            painter.setFont(paperFont(7));
            paintMap(painter, area, *m_page.map, viewOf(box, area.size(), 0));
            painter.setPen(QPen(look::ink, 2.0));
            painter.setBrush(Qt::NoBrush);
            painter.drawEllipse(area.center(), millimetres(4), millimetres(4)); // the valve
            painter.setPen(QPen(look::ink, 0.6));
            painter.drawRect(area);
            area.moveTop(area.bottom() + millimetres(2));
        }
        if (!m_photo.isNull()) {
            area.setHeight(millimetres(photoHeight));
            const QSizeF size = QSizeF(m_photo.size()).scaled(area.size(), Qt::KeepAspectRatio);
            painter.drawImage(QRectF(area.topLeft(), size), m_photo);
            area.moveTop(area.top() + size.height() + millimetres(0.5));
            painter.setFont(paperFont(7));
            painter.setPen(look::quietInk);
            painter.drawText(QRectF(area.left(), area.top(), area.width(), millimetres(4)),
                             Qt::AlignLeft,
                             QObject::tr("Photo of %1")
                                 .arg(m_page.photo->taken.localDate().toString(Qt::ISODate)));
            area.moveTop(area.top() + millimetres(5));
        }
        painter.setPen(look::ink);
        return area.top();
    }

    void paintFacts()
    {
        const QFont labelFont = paperFont(7.5);
        const QFont textFont = paperFont(9);
        const double left = m_run.page().left();
        const double textLeft = left + millimetres(labelWidth);
        for (const auto &[label, text] : m_page.sheet.facts) {
            const PaperLines lines =
                m_run.lines(text, textFont, factsWidth() - millimetres(labelWidth));
            for (int first = 0; first < lines.count();) {
                if (lines.fitting(first, m_run.left()) == 0) {
                    m_run.startPage();
                }
                const int fits = std::max(1, lines.fitting(first, m_run.left()));
                if (first == 0) {
                    m_run.painter().setPen(look::quietInk);
                    m_run.painter().setFont(labelFont);
                    m_run.painter().drawText(
                        QRectF(left, m_run.y + millimetres(0.4), millimetres(labelWidth - 1), 1e3),
                        label, paperWrapping());
                    m_run.painter().setPen(look::ink);
                }
                lines.draw(m_run.painter(), {textLeft, m_run.y}, first, fits);
                m_run.y += lines.height(first, fits);
                first += fits;
            }
            m_run.y += millimetres(1);
        }
    }

    void paintList(const QString &heading, const QStringList &lines)
    {
        if (lines.isEmpty()) {
            return;
        }
        m_run.y += millimetres(2);
        m_run.paragraph(heading, paperFont(10, QFont::DemiBold));
        for (const QString &line : lines) {
            m_run.paragraph(QStringLiteral("\u2022 ") + line, paperFont(8.5));
        }
    }

    void paintEvidence()
    {
        QStringList lines;
        for (const QStringList &row : m_page.sheet.evidence.rows) {
            QStringList parts;
            for (qsizetype i = 0; i < row.size(); ++i) {
                if (!row[i].isEmpty()) {
                    // Day and crew speak for themselves.
                    parts << (i < 2 ? row[i]
                                    : QStringLiteral("%1: %2").arg(
                                          m_page.sheet.evidence.columns[i].toLower(), row[i]));
                }
            }
            lines << parts.join(QStringLiteral("; "));
        }
        paintList(m_page.sheet.evidence.title, lines);
    }

    void paintBoxes()
    {
        constexpr int across = 3;
        const auto count = static_cast<int>(m_page.sheet.boxes.size());
        const double height = millimetres(boxHeight);
        const double rows = (count + across - 1) / across;
        if (m_run.left() < rows * height + millimetres(12)) {
            m_run.startPage();
        }
        m_run.y += millimetres(2);
        m_run.paragraph(QObject::tr("Answer"), paperFont(10, QFont::DemiBold));
        const double width = m_run.page().width() / across;
        QPainter &painter = m_run.painter();
        painter.setPen(QPen(look::ink, 1.0));
        painter.setFont(paperFont(7.5));
        for (int i = 0; i < count; ++i) {
            const QRectF box(m_run.page().left() + (i % across) * width,
                             m_run.y + (i / across) * height, width, height);
            painter.drawRect(box);
            painter.drawText(box.adjusted(millimetres(1), millimetres(0.6), 0, 0),
                             Qt::AlignLeft | Qt::AlignTop, m_page.sheet.boxes[i]);
        }
        m_run.y += rows * height + millimetres(1.5);
        m_run.paragraph(m_page.sheet.answerHow, paperFont(8));
    }

    PageRun &m_run;
    const RepairPage &m_page;
    QImage m_photo;
};

/// The newest photo of the visits that showed it.
std::optional<Photo> photoFor(Session &session, const RepairRequest &request)
{
    const std::vector<Photo> photos = photosOfValve(session, request.valve);
    const auto newest = std::find_if(photos.rbegin(), photos.rend(), [&request](const Photo &each) {
        return std::ranges::find(request.visits, each.owner.visit) != request.visits.end();
    });
    return newest == photos.rend() ? std::nullopt : std::optional(*newest);
}

} // namespace

Result<std::vector<PaperPart>> repairPaper(Session &session, const std::vector<BacklogRow> &rows)
{
    if (rows.empty()) {
        return fail(ErrorCode::NotFound, QObject::tr("No request was chosen."));
    }
    const auto map = std::make_shared<const MapContent>(gatherMap(session));
    std::vector<PaperPart> parts;
    for (const BacklogRow &row : rows) {
        auto page = std::make_shared<RepairPage>();
        page->sheet = repairSheet(row, session.history(row.request->valve), session.shuts(),
                                  session.settings().utility, session.units());
        if (row.valve != nullptr && row.valve->place.isValid()) {
            page->place = row.valve->place;
            page->map = map;
        }
        page->photo = photoFor(session, *row.request);
        parts.push_back({row.request->number, [page, &session](PageRun &run) {
                             RepairPainting(run, *page,
                                            page->photo ? pictureOf(session, *page->photo)
                                                        : QImage())
                                 .paint();
                         }});
    }
    return parts;
}

PaperOptions repairPaperOptions()
{
    return {QPageLayout::Portrait, true};
}

Status writeRepairSheets(Session &session, const std::vector<BacklogRow> &rows, const QString &path)
{
    const auto parts = repairPaper(session, rows);
    if (!parts) {
        return tl::unexpected(parts.error());
    }
    return writePaper(QObject::tr("Repair requests"), *parts, furnitureOf(session),
                      repairPaperOptions(), path);
}

} // namespace keyround
