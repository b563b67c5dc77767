// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/notice_panel.h"

#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/paper_preview.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/dialogs/typed_values.h"
#include "app/print/notice_files.h"

#include <QListWidget>
#include <QPushButton>
#include <QSplitter>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

void setRow(QTableWidget *table, int row, const QStringList &cells)
{
    for (int column = 0; column < cells.size(); ++column) {
        auto *item = new QTableWidgetItem(cells.at(column));
        item->setToolTip(plainToolTip(cells.at(column)));
        table->setItem(row, column, item);
    }
}

QString given(Session &session, const NoticeJob &job)
{
    const ProjectSettings &settings = session.settings();
    const Notice *notice = noticeFor(session.notices(), job.valve, QDateTime(job.day, job.from),
                                     settings.notice, settings.holidays);
    if (notice == nullptr) {
        return {};
    }
    return QObject::tr("%1 told on %2 by %3%4")
        .arg(notice->affected > 0
                 ? QObject::tr("%1 of %2").arg(notice->services).arg(notice->affected)
                 : QString::number(notice->services),
             notice->given.local().toString(QStringLiteral("yyyy-MM-dd HH:mm")), notice->person,
             notice->how.isEmpty() ? QString() : QStringLiteral(": ") + notice->how);
}

int criticalOf(const NoticeJob &job)
{
    return static_cast<int>(std::ranges::count(job.recipients, true, &NoticeRecipient::critical));
}

} // namespace

NoticePanel::NoticePanel(Session &session, std::vector<NoticeJob> jobs, QWidget *parent)
    : QWidget(parent), m_session(session), m_jobs(std::move(jobs)), m_how(tr("door hangers")),
      m_table(new QTableWidget(this)), m_people(new QTableWidget(this)),
      m_wordings(new QListWidget(this)), m_words(plainLabel({}, {}, this)),
      m_lead(plainLabel({}, QStringLiteral("caution"), this)), m_given(plainLabel({}, {}, this))
{
    setWindowTitle(tr("Notices to customers"));
    auto *split = new QSplitter(this);
    split->addWidget(buildLeft());
    split->addWidget(buildRight());
    split->setStretchFactor(0, 3);
    split->setStretchFactor(1, 4);
    split->setChildrenCollapsible(false);
    split->setSizes({560, 640});
    auto *layout = new QVBoxLayout(this);
    layout->addWidget(split);
    Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::noticesChanged, this, &NoticePanel::showJobs);
    connect(&notifier, &Notifier::settingsChanged, this, [this] {
        const ProjectSettings &now = m_session.settings();
        for (NoticeJob &job : m_jobs) { // lead time or holidays may have changed
            job.latest = latestNotice(QDateTime(job.day, job.from), now.notice, now.holidays);
        }
        fillWordings();
        showJobs();
    });
    connect(&notifier, &Notifier::projectChanged, this, &QWidget::close);
    fillWordings();
    showJobs();
    if (!m_jobs.empty()) {
        m_table->selectRow(0);
    }
    showChosen();
}

NoticePanel *NoticePanel::openBeside(QWidget *owner, Session &session, std::vector<NoticeJob> jobs)
{
    QWidget *window = owner->window();
    for (auto *open : window->findChildren<NoticePanel *>()) {
        open->deleteLater();
    }
    auto *panel = new NoticePanel(session, std::move(jobs), window);
    panel->setWindowFlag(Qt::Window);
    panel->setAttribute(Qt::WA_DeleteOnClose);
    panel->resize(1200, 760);
    panel->show();
    return panel;
}

NoticePanel *NoticePanel::openForRound(QWidget *owner, Session &session, const RoundId &id)
{
    const Round *round = session.round(id);
    if (round == nullptr) {
        Q_EMIT session.notifier().failed(
            tr("The round is no longer in this project. Choose another one."));
        return nullptr;
    }
    Result<std::vector<NoticeJob>> jobs = noticeJobsOf(session, *round);
    if (!jobs) {
        Q_EMIT session.notifier().failed(jobs.error().message);
        return nullptr;
    }
    return openBeside(owner, session, std::move(*jobs));
}

CheckedLine *NoticePanel::line(const QString &name) const
{
    const auto found = std::ranges::find(m_lines, name, &std::pair<CheckedLine *, QString>::second);
    return found == m_lines.end() ? nullptr : found->first;
}

NoticeJob *NoticePanel::chosen()
{
    const int row = m_table->currentRow();
    return row >= 0 && row < static_cast<int>(m_jobs.size())
               ? &m_jobs[static_cast<std::size_t>(row)]
               : nullptr;
}

void NoticePanel::fillWordings()
{
    const QSignalBlocker quiet(m_wordings);
    m_wordings->clear();
    for (const NoticeTemplate &wording : m_session.settings().noticeTemplates.list) {
        auto *item =
            new QListWidgetItem(tr("%1 (%2)").arg(wording.name, wordFor(wording.form)), m_wordings);
        item->setData(Qt::UserRole, wording.name);
        item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsUserCheckable | Qt::ItemIsSelectable);
        const bool isEnglish = wording.language.startsWith(QLatin1String("en"));
        item->setCheckState(isEnglish ? Qt::Checked : Qt::Unchecked);
    }
    m_wordings->setCurrentRow(0);
}

void NoticePanel::showJobs()
{
    const QSignalBlocker quiet(m_table);
    const int row = m_table->currentRow();
    m_table->setRowCount(static_cast<int>(m_jobs.size()));
    for (std::size_t i = 0; i < m_jobs.size(); ++i) {
        const NoticeJob &job = m_jobs[i];
        setRow(m_table, static_cast<int>(i),
               {job.what, QString::number(job.recipients.size()), QString::number(criticalOf(job)),
                job.latest.toString(QStringLiteral("yyyy-MM-dd HH:mm")), given(m_session, job)});
    }
    m_table->setCurrentCell(row, 0);
    showChosen();
}

void NoticePanel::showChosen()
{
    const NoticeJob *job = chosen();
    for (QPushButton *button : m_needJob) {
        button->setEnabled(job != nullptr && !job->recipients.empty());
    }
    m_people->setRowCount(job == nullptr ? 0 : static_cast<int>(job->recipients.size()));
    if (job == nullptr) {
        m_lead->setText(m_jobs.empty() ? tr("Nobody loses water by these shuts: there is nothing "
                                            "to tell.")
                                       : tr("Choose a shut at the left."));
        m_given->clear();
        m_words->clear();
        return;
    }
    for (std::size_t i = 0; i < job->recipients.size(); ++i) {
        const NoticeRecipient &each = job->recipients[i];
        setRow(m_people, static_cast<int>(i),
               {each.address, each.customer, each.phone, each.service,
                each.critical ? tr("cannot be without") : QString()});
    }
    const bool isLate = m_session.now().local() > job->latest;
    const QString by = job->latest.toString(QStringLiteral("ddd yyyy-MM-dd HH:mm"));
    restyle(m_lead, "role", isLate ? QStringLiteral("caution") : QStringLiteral("entry"));
    m_lead->setText(isLate ? tr("Too late for this day: they had to be told by %1. Choose a later "
                                "day, or ask who may allow it.")
                                 .arg(by)
                           : tr("Tell them by %1, by the project's own lead time.").arg(by));
    if (m_told < 1 || m_told > static_cast<int>(job->recipients.size())) {
        m_told = static_cast<int>(job->recipients.size());
    }
    line(QStringLiteral("noticeDay"))->setStored(job->day.toString(Qt::ISODate));
    line(QStringLiteral("noticeFrom"))->setStored(timeText(job->from));
    line(QStringLiteral("noticeTo"))->setStored(timeText(job->to));
    line(QStringLiteral("noticeWhy"))->setStored(m_why);
    line(QStringLiteral("noticeHow"))->setStored(m_how);
    line(QStringLiteral("noticeTold"))->setStored(QString::number(m_told));
    m_given->setText(given(m_session, *job));
    showWords();
}

NoticePrint NoticePanel::printOf(NoticeForm form)
{
    NoticePrint print;
    print.why = m_why;
    const NoticeTemplates &templates = m_session.settings().noticeTemplates;
    for (int i = 0; i < m_wordings->count(); ++i) {
        const NoticeTemplate *wording =
            templateNamed(templates, m_wordings->item(i)->data(Qt::UserRole).toString());
        if (wording != nullptr && wording->form == form &&
            m_wordings->item(i)->checkState() == Qt::Checked) {
            print.wordings.push_back(*wording);
        }
    }
    return print;
}

/// The chosen wording, filled in for the first service of the list.
void NoticePanel::showWords()
{
    const NoticeJob *job = chosen();
    const QListWidgetItem *item = m_wordings->currentItem();
    const NoticeTemplate *wording = item == nullptr
                                        ? nullptr
                                        : templateNamed(m_session.settings().noticeTemplates,
                                                        item->data(Qt::UserRole).toString());
    if (job == nullptr || job->recipients.empty() || wording == nullptr) {
        m_words->clear();
        return;
    }
    const Result<NoticeWords> words =
        noticeWords(*wording, factsOf(m_session, *job, *wording, m_why), job->recipients.front());
    m_words->setText(words ? words->title + QStringLiteral("\n\n") + words->text
                           : tr("Cannot be printed: %1").arg(words.error().message));
}

void NoticePanel::preview(NoticeForm form)
{
    const NoticeJob *found = chosen();
    if (found == nullptr) {
        return;
    }
    PreviewJob job;
    job.title = tr("Notices: %1").arg(found->what);
    job.suggestedName = tr("notices.pdf");
    job.options = form == NoticeForm::DoorHanger ? PaperOptions{QPageLayout::Landscape, false}
                  : form == NoticeForm::Letter   ? PaperOptions{QPageLayout::Portrait, false}
                                                 : PaperOptions{};
    job.make = [&session = m_session, notice = *found, print = printOf(form), form](
                   const std::vector<int> &) { return noticePaper(session, notice, print, form); };
    PaperPreview::openBeside(this, m_session, std::move(job));
}

void NoticePanel::saveCsv()
{
    const NoticeJob *job = chosen();
    const QString path = chooseFileToSave(this, tr("Save who is without water"), tr("services.csv"),
                                          tr("CSV (*.csv)"));
    if (job != nullptr && !path.isEmpty()) {
        showOutcome(this, writeRecipientsCsv(*job, path), tr("Saved to %1").arg(path));
    }
}

void NoticePanel::saveLog()
{
    const QString path = chooseFileToSave(this, tr("Save all notices that were given"),
                                          tr("notices-given.csv"), tr("CSV (*.csv)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeNoticeLog(m_session, path), tr("Saved to %1").arg(path));
    }
}

void NoticePanel::writeDown()
{
    const NoticeJob *job = chosen();
    if (job == nullptr) {
        return;
    }
    const QListWidgetItem *wording = m_wordings->currentItem(); // the one that is shown
    const Status recorded =
        recordNotice(m_session, *job,
                     {job->day, m_how, m_told,
                      wording == nullptr ? QString() : wording->data(Qt::UserRole).toString()});
    if (!recorded) {
        Q_EMIT m_session.notifier().failed(recorded.error().message);
        m_given->setText(recorded.error().message);
    }
}

} // namespace keyround
