// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/notice_panel.h"

#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/paper_preview.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/dialogs/typed_values.h"
#include "app/print/notice_files.h"
#include "core/inventory/value_parsers.h"

#include <QFormLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

QTableWidget *tableOf(const QStringList &headings, const QString &name, QWidget *parent)
{
    auto *table = new QTableWidget(0, static_cast<int>(headings.size()), parent);
    table->setAccessibleName(name);
    table->setHorizontalHeaderLabels(headings);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->setSelectionMode(QAbstractItemView::SingleSelection);
    table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table->setTabKeyNavigation(false);
    table->verticalHeader()->hide();
    table->horizontalHeader()->setStretchLastSection(true);
    return table;
}

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

Status readTime(QTime &time, const QString &text)
{
    const Result<QTime> read = timeTyped(text);
    if (!read) {
        return tl::unexpected<Error>(read.error());
    }
    time = *read;
    return {};
}

} // namespace

NoticePanel::NoticePanel(Session &session, std::vector<NoticeJob> jobs, QWidget *parent)
    : QWidget(parent), m_session(session), m_jobs(std::move(jobs)), m_how(tr("door hangers")),
      m_table(tableOf({tr("Shut"), tr("Services"), tr("Critical"), tr("Tell by"), tr("Told")},
                      tr("Planned shuts"), this)),
      m_people(tableOf({tr("Address"), tr("Customer"), tr("Phone"), tr("Service"), tr("Critical")},
                       tr("Who is without water"), this)),
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
        fillWordings();
        showChosen();
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

QWidget *NoticePanel::buildLeft()
{
    auto *side = new QWidget(this);
    m_table->setObjectName(QStringLiteral("noticeJobs"));
    m_table->setColumnWidth(0, 220);
    m_table->setColumnWidth(1, 84);
    m_table->setColumnWidth(2, 76);
    m_table->setColumnWidth(3, 136);
    m_people->setObjectName(QStringLiteral("noticePeople"));
    m_people->setColumnWidth(0, 190);
    m_people->setColumnWidth(1, 150);
    connect(m_table, &QTableWidget::itemSelectionChanged, this, &NoticePanel::showChosen);
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(plainCaption(tr("Planned shuts"), QStringLiteral("heading"), side));
    layout->addWidget(m_table, 2);
    layout->addWidget(plainCaption(tr("Who is without water"), QStringLiteral("heading"), side));
    layout->addWidget(m_people, 3);
    layout->addWidget(plainLabel(
        tr("Worked out from how the mains are joined, not from pressure: ask the operators who "
           "else may notice it."),
        QStringLiteral("quiet"), side));
    return side;
}

CheckedLine *NoticePanel::addLine(QFormLayout *form, const QString &label, const char *name,
                                  std::function<Status(NoticeJob &, const QString &)> write)
{
    auto *line = new CheckedLine(
        label,
        [this, write = std::move(write)](const QString &text) -> Status {
            NoticeJob *job = chosen();
            if (job == nullptr) {
                return {};
            }
            NoticeJob after = *job;
            Status written = write(after, text);
            if (written) {
                const ProjectSettings &settings = m_session.settings();
                after.latest = latestNotice(QDateTime(after.day, after.from), settings.notice,
                                            settings.holidays);
                *job = std::move(after);
                showJobs();
            }
            return written;
        },
        this);
    line->setObjectName(QLatin1String(name));
    form->addRow(label, line);
    m_lines.emplace_back(line, QLatin1String(name));
    return line;
}

QWidget *NoticePanel::buildRight()
{
    auto *side = new QWidget(this);
    auto *form = new QFormLayout;
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    addLine(form, tr("Day of the work"), "noticeDay", [](NoticeJob &job, const QString &text) {
        const auto day = parseDate(text, std::nullopt);
        if (!day || !*day) {
            return Status(fail(ErrorCode::BadInput,
                               tr("\"%1\" is no date. Write year, month and day: 2026-03-16.")
                                   .arg(text.trimmed())));
        }
        job.day = **day;
        return Status{};
    });
    addLine(form, tr("Water goes off"), "noticeFrom",
            [](NoticeJob &job, const QString &text) { return readTime(job.from, text); });
    addLine(form, tr("Water is back"), "noticeTo", [](NoticeJob &job, const QString &text) {
        return readTime(job.to, text).and_then([&job]() -> Status {
            return job.to > job.from
                       ? Status{}
                       : Status(fail(ErrorCode::BadInput,
                                     tr("Water is back after it goes off, on the same day.")));
        });
    });
    addLine(form, tr("Why"), "noticeWhy",
            [this](NoticeJob &, const QString &text) {
                m_why = text.trimmed();
                return Status{};
            })
        ->line()
        ->setPlaceholderText(tr("empty: the usual reason"));
    m_wordings->setObjectName(QStringLiteral("noticeWordings"));
    m_wordings->setAccessibleName(tr("Wordings to print"));
    m_wordings->setMaximumHeight(150);
    m_wordings->setSpacing(1);
    connect(m_wordings, &QListWidget::itemChanged, this, &NoticePanel::showWords);
    connect(m_wordings, &QListWidget::currentRowChanged, this, &NoticePanel::showWords);
    form->addRow(tr("Wordings"), m_wordings);
    m_words->setObjectName(QStringLiteral("noticeWords"));
    m_words->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_words->setMargin(10);
    m_words->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    auto *area = new QScrollArea(side);
    area->setWidgetResizable(true);
    area->setWidget(m_words);
    m_lead->setObjectName(QStringLiteral("noticeLead"));
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(8, 0, 0, 0);
    layout->addWidget(m_lead);
    layout->addLayout(form);
    layout->addWidget(area, 1);
    layout->addWidget(buildPaperRow());
    layout->addWidget(buildToldRow());
    return side;
}

QWidget *NoticePanel::buildPaperRow()
{
    auto *row = new QWidget(this);
    auto *layout = new QHBoxLayout(row);
    layout->setContentsMargins(0, 0, 0, 0);
    const auto add = [&](const QString &text, const char *name, auto act) {
        auto *button = new QPushButton(text, row);
        button->setObjectName(QLatin1String(name));
        connect(button, &QPushButton::clicked, this, act);
        layout->addWidget(button);
        m_needJob.push_back(button);
    };
    add(tr("Door hangers..."), "noticeHangers", [this] { preview(NoticeForm::DoorHanger); });
    add(tr("Letters..."), "noticeLetters", [this] { preview(NoticeForm::Letter); });
    add(tr("Call list..."), "noticeCalls", [this] { preview(NoticeForm::Call); });
    add(tr("Services (CSV)..."), "noticeCsv", [this] { saveCsv(); });
    layout->addStretch(1);
    return row;
}

QWidget *NoticePanel::buildToldRow()
{
    auto *box = new QWidget(this);
    auto *form = new QFormLayout;
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    addLine(form, tr("How they were told"), "noticeHow", [this](NoticeJob &, const QString &text) {
        m_how = text.trimmed();
        return Status{};
    });
    addLine(form, tr("How many services"), "noticeTold",
            [this](NoticeJob &job, const QString &text) -> Status {
                const auto most = static_cast<double>(job.recipients.size());
                const Result<double> number = numberTyped(text, 1, most);
                if (!number || *number != static_cast<int>(*number)) {
                    return fail(ErrorCode::BadInput,
                                tr("Type a whole number from 1 to %1.").arg(most));
                }
                m_told = static_cast<int>(*number);
                return {};
            });
    m_write = new QPushButton(tr("Write down that they were told now"), box);
    m_write->setObjectName(QStringLiteral("noticeWrite"));
    m_write->setToolTip(tr("It is written down once and cannot be undone."));
    connect(m_write, &QPushButton::clicked, this, &NoticePanel::writeDown);
    m_needJob.push_back(m_write);
    m_given->setObjectName(QStringLiteral("noticeGiven"));
    auto *layout = new QVBoxLayout(box);
    layout->setContentsMargins(0, 8, 0, 0);
    layout->addLayout(form);
    auto *log = new QPushButton(tr("All notices given (CSV)..."), box);
    log->setObjectName(QStringLiteral("noticeLog"));
    connect(log, &QPushButton::clicked, this, &NoticePanel::saveLog);
    auto *buttons = new QHBoxLayout;
    buttons->addWidget(m_write);
    buttons->addWidget(log);
    buttons->addStretch(1);
    layout->addLayout(buttons);
    layout->addWidget(m_given);
    return box;
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
    const NoticePrint print = printOf(NoticeForm::DoorHanger);
    const Status recorded =
        recordNotice(m_session, *job,
                     {job->day, m_how, m_told,
                      print.wordings.empty() ? QString() : print.wordings.front().name});
    if (!recorded) {
        Q_EMIT m_session.notifier().failed(recorded.error().message);
        m_given->setText(recorded.error().message);
    }
}

} // namespace keyround
