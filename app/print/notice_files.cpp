// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/notice_files.h"

#include "app/print/page_furniture.h"
#include "app/print/sheet_printer.h"
#include "app/shell/style.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr int hangersOnAPage = 3;
constexpr double hangerInset = 6;   ///< millimetres from the cut to the text
constexpr double holeDiameter = 32; ///< of a door's handle (common practice, no source)
constexpr double largestHangerText = 11;
constexpr double smallestHangerText = 7;

Status checkAnybody(const NoticeJob &job)
{
    if (job.recipients.empty()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("Nobody is without water by %1: there is no notice to print.")
                        .arg(job.what));
    }
    return {};
}

Status checkPrint(const NoticeJob &job, const NoticePrint &print)
{
    if (print.wordings.empty()) {
        return fail(ErrorCode::BadInput, QObject::tr("Choose a wording for the notice."));
    }
    return checkAnybody(job);
}

/// One notice, filled in.
struct FilledNotice
{
    NoticeRecipient recipient;
    NoticeWords words;
};

NoticeFacts factsFor(Session &session, const NoticeJob &job, const NoticeTemplate &wording,
                     const NoticePrint &print)
{
    NoticeFacts facts = factsOf(session, job, wording, print.why);
    if (!print.contact.trimmed().isEmpty()) {
        facts.contact = print.contact.trimmed();
    }
    return facts;
}

Result<std::vector<FilledNotice>> filledNotices(Session &session, const NoticeJob &job,
                                                const NoticePrint &print)
{
    if (Status sound = checkPrint(job, print); !sound) {
        return tl::unexpected(sound.error());
    }
    std::vector<FilledNotice> filled;
    for (const NoticeRecipient &recipient : job.recipients) {
        for (const NoticeTemplate &wording : print.wordings) {
            Result<NoticeWords> words =
                noticeWords(wording, factsFor(session, job, wording, print), recipient);
            if (!words) {
                return tl::unexpected(words.error());
            }
            filled.push_back({recipient, std::move(*words)});
        }
    }
    return filled;
}

/// A strip of a landscape page, as wide as a third of it.
class HangerPainting
{
public:
    explicit HangerPainting(PageRun &run) : m_run(run), m_painter(run.painter()) {}

    void paint(const std::vector<FilledNotice> &notices, double points)
    {
        for (std::size_t i = 0; i < notices.size(); ++i) {
            const int place = static_cast<int>(i) % hangersOnAPage;
            if (place == 0 && i > 0) {
                m_run.startPage();
            }
            if (place == 0) {
                paintCuts();
            }
            paintOne(notices[i], stripOf(place), points);
        }
    }

    /// Whether title and text of a hanger find room in this size.
    bool fits(const FilledNotice &notice, double points)
    {
        const QRectF room = roomIn(stripOf(0));
        return titleHeight(notice, room, points) + millimetres(3) +
                   m_run.heightOf(notice.words.text, room.width(), paperFont(points)) <=
               room.height();
    }

private:
    [[nodiscard]] QRectF stripOf(int place) const
    {
        const QRectF &page = m_run.page();
        const double width = page.width() / hangersOnAPage;
        return {page.left() + place * width, page.top(), width, page.height()};
    }
    [[nodiscard]] static QRectF roomIn(const QRectF &strip)
    {
        const double inset = millimetres(hangerInset);
        return strip.adjusted(inset, millimetres(holeDiameter + 10), -inset, -inset);
    }
    [[nodiscard]] static QFont titleFont(double points)
    {
        return paperFont(points * 1.5, QFont::DemiBold);
    }
    double titleHeight(const FilledNotice &notice, const QRectF &room, double points)
    {
        return m_run.heightOf(notice.words.title, room.width(), titleFont(points));
    }

    /// Dashed where to cut; the scissors' side is no one's, so the lines run the whole page.
    void paintCuts()
    {
        QPen cut(look::quietInk, 0.7, Qt::DashLine);
        m_painter.setPen(cut);
        for (int place = 1; place < hangersOnAPage; ++place) {
            const double x = stripOf(place).left();
            m_painter.drawLine(QPointF(x, m_run.page().top()), QPointF(x, m_run.page().bottom()));
        }
        for (int place = 0; place < hangersOnAPage; ++place) {
            const QRectF strip = stripOf(place);
            const double radius = millimetres(holeDiameter) / 2;
            const QPointF centre(strip.center().x(), strip.top() + radius + millimetres(4));
            m_painter.setBrush(Qt::NoBrush);
            m_painter.drawEllipse(centre, radius, radius);
            m_painter.drawLine(centre + QPointF(radius * 0.7, -radius * 0.7),
                               QPointF(strip.right(), strip.top()));
        }
    }

    void paintOne(const FilledNotice &notice, const QRectF &strip, double points)
    {
        const QRectF room = roomIn(strip);
        m_painter.setPen(look::ink);
        m_painter.setFont(titleFont(points));
        const double title = titleHeight(notice, room, points);
        m_painter.drawText(QRectF(room.topLeft(), QSizeF(room.width(), title)), notice.words.title,
                           paperWrapping());
        m_painter.setFont(paperFont(points));
        m_painter.drawText(room.adjusted(0, title + millimetres(3), 0, 0), notice.words.text,
                           paperWrapping());
    }

    PageRun &m_run;
    QPainter &m_painter;
};

/// The largest text in which every hanger fits; nothing where the smallest is too large.
std::optional<double> hangerPoints(PageRun &run, const std::vector<FilledNotice> &notices)
{
    HangerPainting painting(run);
    for (double points = largestHangerText; points >= smallestHangerText; points -= 0.5) {
        if (std::ranges::all_of(notices, [&](const FilledNotice &notice) {
                return painting.fits(notice, points);
            })) {
            return points;
        }
    }
    return std::nullopt;
}

/// Measured on paper that is thrown away.
Result<double> pointsThatFit(Session &session, const std::vector<FilledNotice> &notices)
{
    std::optional<double> points;
    const PageFurniture furniture = furnitureOf(session);
    measureOnPaper(furniture, {QPageLayout::Landscape, false},
                   [&](PageRun &run) { points = hangerPoints(run, notices); });
    if (!points) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("The wording is too long for a door hanger, even in small letters. "
                                "Shorten it, or send letters."));
    }
    return *points;
}

void paintLetter(PageRun &run, const FilledNotice &notice, const NoticeTemplates &settings,
                 const QString &utility)
{
    // The window of an envelope: 20 mm from the left, 45 mm from the top (common practice, no
    // source); the page's own margin is 12 mm.
    const QRectF &page = run.page();
    const double indent = millimetres(8);
    QPainter &painter = run.painter();
    painter.setPen(look::ink);
    painter.setFont(paperFont(9));
    const QString sender = QStringList{utility, settings.senderAddress}.join(QLatin1Char('\n'));
    painter.drawText(
        QRectF(page.left() + indent, page.top(), page.width() - indent, millimetres(30)),
        sender.trimmed(), paperWrapping());
    painter.setFont(paperFont(11));
    const QString customer = notice.recipient.customer.isEmpty() ? QObject::tr("To the customer at")
                                                                 : notice.recipient.customer;
    painter.drawText(QRectF(page.left() + indent, page.top() + millimetres(33), millimetres(85),
                            millimetres(30)),
                     QStringList{customer, notice.recipient.address}.join(QLatin1Char('\n')),
                     paperWrapping());
    run.y = page.top() + millimetres(73);
    run.paragraph(notice.words.title, paperFont(13, QFont::DemiBold));
    run.y += millimetres(3);
    for (const QString &paragraph : notice.words.text.split(QStringLiteral("\n\n"))) {
        run.paragraph(paragraph, paperFont(11));
        run.y += millimetres(3);
    }
}

} // namespace

Result<std::vector<PaperPart>> hangerPaper(Session &session, const NoticeJob &job,
                                           const NoticePrint &print)
{
    Result<std::vector<FilledNotice>> notices = filledNotices(session, job, print);
    if (!notices) {
        return tl::unexpected(notices.error());
    }
    return pointsThatFit(session, *notices).map([&](double points) {
        return std::vector<PaperPart>{
            {QObject::tr("Door hangers"), [notices = std::move(*notices), points](PageRun &run) {
                 HangerPainting(run).paint(notices, points);
             }}};
    });
}

Result<std::vector<PaperPart>> letterPaper(Session &session, const NoticeJob &job,
                                           const NoticePrint &print)
{
    const Result<std::vector<FilledNotice>> notices = filledNotices(session, job, print);
    if (!notices) {
        return tl::unexpected(notices.error());
    }
    const NoticeTemplates settings = session.settings().noticeTemplates;
    const QString utility = session.settings().utility;
    std::vector<PaperPart> parts;
    for (const FilledNotice &notice : *notices) {
        parts.push_back({notice.recipient.address, [notice, settings, utility](PageRun &run) {
                             paintLetter(run, notice, settings, utility);
                         }});
    }
    return parts;
}

Result<std::vector<PaperPart>> noticePaper(Session &session, const NoticeJob &job,
                                           const NoticePrint &print, NoticeForm form)
{
    switch (form) {
    case NoticeForm::DoorHanger:
        return hangerPaper(session, job, print);
    case NoticeForm::Letter:
        return letterPaper(session, job, print);
    case NoticeForm::Call:
        break;
    }
    return callSheet(session, job, print).map([](Sheet &&sheet) {
        std::vector<PaperPart> parts;
        parts.push_back(paperOf(SheetPart{std::move(sheet), {}, 1.0}));
        return parts;
    });
}

Status writeDoorHangers(Session &session, const NoticeJob &job, const NoticePrint &print,
                        const QString &path)
{
    return hangerPaper(session, job, print).and_then([&](const std::vector<PaperPart> &parts) {
        return writePaper(QObject::tr("Door hangers"), parts, furnitureOf(session),
                          {QPageLayout::Landscape, false}, path);
    });
}

Status writeLetters(Session &session, const NoticeJob &job, const NoticePrint &print,
                    const QString &path)
{
    return letterPaper(session, job, print).and_then([&](const std::vector<PaperPart> &parts) {
        return writePaper(QObject::tr("Letters"), parts, furnitureOf(session),
                          {QPageLayout::Portrait, false}, path);
    });
}

Result<Sheet> callSheet(Session &session, const NoticeJob &job, const NoticePrint &print)
{
    if (Status sound = checkAnybody(job); !sound) {
        return tl::unexpected(sound.error());
    }
    Sheet sheet;
    sheet.title = QObject::tr("Calls before the water goes off");
    sheet.headerLines = {QObject::tr("%1, %2 from %3 to %4; %5 services")
                             .arg(job.what, job.day.toString(Qt::ISODate),
                                  job.from.toString(QStringLiteral("HH:mm")),
                                  job.to.toString(QStringLiteral("HH:mm")))
                             .arg(job.recipients.size()),
                         QObject::tr("Notice is early enough until %1")
                             .arg(job.latest.toString(QStringLiteral("ddd yyyy-MM-dd HH:mm")))};
    sheet.table.title = sheet.title;
    sheet.table.columns = {
        QObject::tr("No."),        QObject::tr("Phone"),         QObject::tr("Customer"),
        QObject::tr("Address"),    QObject::tr("Service"),       QObject::tr("Cannot be without"),
        QObject::tr("Reached at"), QObject::tr("What was said"), QObject::tr("By")};
    sheet.penColumnsFrom = 6;
    std::vector<NoticeRecipient> order = job.recipients;
    std::ranges::stable_sort(order, std::ranges::greater{}, &NoticeRecipient::critical);
    for (const NoticeRecipient &each : order) {
        sheet.table.rows.push_back({QString::number(sheet.table.rows.size() + 1), each.phone,
                                    each.customer, each.address, each.service,
                                    each.critical ? QObject::tr("yes") : QString(), QString(),
                                    QString(), QString()});
    }
    for (const NoticeTemplate &wording : print.wordings) {
        // The same words for everybody: what differs is read from the row.
        NoticeRecipient anybody;
        anybody.address = QObject::tr("(the address)");
        anybody.service = QObject::tr("(the service's number)");
        anybody.customer = QObject::tr("(the name)");
        const Result<NoticeWords> words =
            noticeWords(wording, factsFor(session, job, wording, print), anybody);
        if (!words) {
            return tl::unexpected(words.error());
        }
        sheet.notes << QObject::tr("Say (%1): %2").arg(wording.name, words->text.simplified());
    }
    sheet.cautions = {
        QObject::tr("Whoever cannot be without water is for the utility to help before anything "
                    "is shut. Whether water must be boiled afterwards is the utility's and its "
                    "regulator's to say."),
        QObject::tr("This list holds names and phones of customers: give it back, and destroy it "
                    "when it is done with.")};
    return sheet;
}

Status writeCallList(Session &session, const NoticeJob &job, const NoticePrint &print,
                     const QString &path)
{
    return callSheet(session, job, print).and_then([&](const Sheet &sheet) {
        return writeSheetPdf(sheet, furnitureOf(session), {}, path);
    });
}

Status writeNotices(Session &session, const NoticeJob &job, const NoticePrint &print,
                    const QString &path)
{
    if (Status sound = checkPrint(job, print); !sound) {
        return sound;
    }
    const NoticeForm form = print.wordings.front().form;
    if (!std::ranges::all_of(print.wordings, [form](const NoticeTemplate &wording) {
            return wording.form == form;
        })) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("Hangers, letters and calls go into files of their own: choose "
                                "wordings of one kind."));
    }
    switch (form) {
    case NoticeForm::DoorHanger:
        return writeDoorHangers(session, job, print, path);
    case NoticeForm::Letter:
        return writeLetters(session, job, print, path);
    case NoticeForm::Call:
        break;
    }
    return writeCallList(session, job, print, path);
}

} // namespace keyround
